# The same shell with the same libraries loaded and one line in it: what opening costs before anything of ours.
from dashboard.page import app

app.prepare()
app.shell_of(["One line."]).servable()
