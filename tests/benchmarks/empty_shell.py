# The same shell with the same libraries loaded and one line in it: what opening costs before anything of ours.
import panel_material_ui as pmui

from dashboard import app

app.prepare()
shell = pmui.Page(
    title="Empty", main=["One line."], sidebar=["One line."], sidebar_width=310, theme_toggle=False
)
app._untie(shell)
shell.servable()
