"""A phone's glass of WebKitGTK: one window of exact size, whose storage outlives it.

WebKitWebDriver starts it, with the system's Python, as `webkit_window.py FOLDER WIDTH HEIGHT`.
MiniBrowser, which comes with WebKitGTK, is never as narrow as a phone and forgets what was stored.
"""

import sys

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import Gtk, WebKit2  # noqa: E402  versions are chosen before the import


def main(folder, width, height):
    """Show a page under the driver's control until the window or the process is ended."""
    kept = WebKit2.WebsiteDataManager(
        base_data_directory=f"{folder}/data", base_cache_directory=f"{folder}/cache"
    )
    context = WebKit2.WebContext(website_data_manager=kept)
    context.set_automation_allowed(True)

    def open_window(*_):
        view = WebKit2.WebView(web_context=context, is_controlled_by_automation=True)
        window = Gtk.Window(decorated=False)
        window.set_default_size(int(width), int(height))
        window.add(view)
        window.connect("destroy", Gtk.main_quit)
        window.show_all()
        return view

    context.connect(
        "automation-started", lambda _, session: session.connect("create-web-view", open_window)
    )
    Gtk.main()


if __name__ == "__main__":
    main(*sys.argv[1:])
