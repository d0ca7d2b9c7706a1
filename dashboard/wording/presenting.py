"""What is said of showing the page to a room: of the list of prepared views, and of the room's phones."""

HOW = "Arrange the page, name it and press Keep it. N and P step through the list in the hall view."
KEPT = "Only this browser keeps the list; to take it elsewhere, press Save the list."
PICTURE = "Picture of the candidates in the hall"
OTHER_PICTURE = " T shows {}."
NOTES = "Notes are for you: the hall view shows them when you press M."
PHONES = "Phones in this network can open the page: press C in the hall view for the code."
NOT_TAKEN = "{text} was not taken: {rule}; {instead}."
FOUND = "B or Esc: back to my view."
PUT_ASIDE = "Your own slate of {count} was put aside; Undo (U in the hall view) brings it back."
HERE_ONLY = (
    "This page was opened at an address of this machine alone, so the link opens nowhere else. {instead}"
)
OPEN_AT = "Open the page at {} and copy the link there."
SEND_FILE = "Send a file instead, or see Present for how others can open it."
UNSEEN = {
    "undo": "Taken back: a choice that does not show here; {left} more.",
    "redo": "Made again: a choice that does not show here; {left} more.",
}
