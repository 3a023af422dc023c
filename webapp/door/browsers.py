"""What a browser is called in the list of sessions, from the header in which it introduces itself.

Only these words are kept, never the header: whoever sends it may write in it what they like.
"""

# In this order: browsers name the ones before them as well, to be taken for those.
BROWSERS = {
    "Edg": "Edge",
    "OPR/": "Opera",
    "SamsungBrowser/": "Samsung Internet",
    "Firefox/": "Firefox",
    "FxiOS/": "Firefox",
    "CriOS/": "Chrome",
    "Chrome/": "Chrome",
    "Safari/": "Safari",
}
SYSTEMS = {
    "Windows": "Windows",
    "Android": "Android",
    "iPhone": "an iPhone",
    "iPad": "an iPad",
    "Mac OS X": "a Mac",
    "CrOS": "ChromeOS",
    "Linux": "Linux",
}


def browser_called(header: str) -> str:
    """A browser and its system, such as `Firefox on Windows`; as much of it as is known."""
    browser = next((name for mark, name in BROWSERS.items() if mark in header), "A browser")
    system = next((name for mark, name in SYSTEMS.items() if mark in header), None)
    return browser if system is None else f"{browser} on {system}"
