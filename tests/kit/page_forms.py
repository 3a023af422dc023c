"""The forms of a page as a browser would send them, but for the button that is pressed."""

from html.parser import HTMLParser
from urllib.parse import urldefrag


def forms_of(page, address):
    """The fields of each form of a page that goes to this address, wherever on the next page."""
    reader = Forms()
    reader.feed(page.text)
    sent = [(urldefrag(action or "").url, fields) for action, fields in reader.forms]
    return [fields for action, fields in sent if action == address]


class Forms(HTMLParser):
    """Gathers (action, {name: value}) of every form."""

    def __init__(self):
        super().__init__()
        self.forms = []
        self.area = self.select = self.option = None

    @property
    def fields(self):
        return self.forms[-1][1] if self.forms else {}

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        if tag == "form":
            self.forms.append((given.get("action"), {}))
        elif tag == "input":
            ticked = given.get("type") not in {"radio", "checkbox"} or "checked" in given
            if ticked and "name" in given:
                self.fields[given["name"]] = given.get("value", "")
        elif tag == "textarea":
            self.area = given["name"]
            self.fields[self.area] = ""
        elif tag == "select":
            self.select = given["name"]
        elif tag == "option":
            self.option = given

    def handle_data(self, data):
        if self.area:
            self.fields[self.area] += data
        elif self.option is not None:
            value = self.option.get("value", data.strip())
            if "selected" in self.option:
                self.fields[self.select] = value
            else:
                self.fields.setdefault(self.select, value)
            self.option = None

    def handle_endtag(self, tag):
        if tag == "textarea":
            # A browser leaves out the line break that a text area begins with.
            self.fields[self.area] = self.fields[self.area].removeprefix("\r\n").removeprefix("\n")
            self.area = None
