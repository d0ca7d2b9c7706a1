"""How the documents become pages: plain Markdown, a theme that asks nobody for anything, every link checked."""

project = "Orchard Slate"
copyright = "BSD 3-Clause, see docs/LICENSE"
html_show_sphinx = False
extensions = ["myst_parser"]
root_doc = "index"
exclude_patterns = ["papers"]
myst_heading_anchors = 4  # "methods.md#units" leads to that heading
myst_enable_extensions = ["colon_fence"]
suppress_warnings = ["myst.header"]  # a document may begin its parts at any level
html_theme = "alabaster"
html_theme_options = {
    "description": "From trial records to a slate of peaches and nectarines",
    "font_family": "system-ui, sans-serif",
    "head_font_family": "system-ui, sans-serif",
    "fixed_sidebar": True,
    "page_width": "1100px",
    "show_powered_by": False,
    "show_relbars": True,
    "sidebar_collapse": True,
    "globaltoc_maxdepth": 1,
}
html_sidebars = {"**": ["about.html", "searchfield.html", "navigation.html"]}
html_extra_path = ["papers"]
html_static_path = ["dress"]
html_copy_source = html_show_sourcelink = False
