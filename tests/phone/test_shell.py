"""The app's shell over HTTP: one build, the same bytes for everybody, ready to be kept offline."""

import gzip
import json
import re
import shutil

import brotli
import pytest

from webapp.phone.compiler.glossary import EVERYDAY
from webapp.phone.shell_files import Shell, static_folder


def built(client):
    return client.get("/build.json").json["build"]


def worker_lines(client):
    build, shell, *_ = client.get("/sw.js").text.splitlines()
    return json.loads(build.split(" = ")[1].rstrip(";")), json.loads(
        shell.split(" = ")[1].rstrip(";")
    )


def test_the_app_and_every_tag_open_the_same_bytes(client):
    app, tag = client.get("/app"), client.get("/t/K7RM-4TQX")

    assert app.status_code == tag.status_code == 200
    assert app.data == tag.data
    assert app.headers["Content-Type"] == "text/html; charset=utf-8"


def test_the_page_has_no_inline_script_or_style(client):
    page = client.get("/app").text

    assert not re.search(r"<script(?![^>]*\ssrc=)", page)
    assert "<style" not in page and " style=" not in page and "onclick" not in page
    assert "<noscript>" in page


def test_everything_that_the_page_and_the_manifest_name_is_there(client):
    named = re.findall(r'"(/[^"]*\.\w+)"', client.get("/app").text)
    named += re.findall(r'"(/shell/[^"]*)"', client.get("/manifest.webmanifest").text)

    assert len(named) >= 4
    assert [path for path in named if client.get(path).status_code != 200] == []


def test_an_iphone_finds_a_picture_for_its_home_screen(client):
    (named,) = re.findall(r'rel="apple-touch-icon" href="([^"]+)"', client.get("/app").text)
    icon = client.get(named)

    assert icon.status_code == 200
    # Width and height as a PNG begins with them.
    assert icon.data[16:24] == (180).to_bytes(4, "big") * 2


def test_everything_that_the_worker_keeps_is_there_and_of_its_build(client):
    build, shell = worker_lines(client)

    assert build == built(client)
    assert f"/shell/{build}/js/app.js" in shell
    for path in [*shell, "/app"]:
        reply = client.get(path)
        assert (reply.status_code, reply.headers["X-Axlewright-Build"]) == (200, build)


def test_the_worker_leaves_the_desks_files_out(client):
    assert [path for path in worker_lines(client)[1] if "desk" in path] == []


def test_f19_what_names_the_build_is_asked_for_anew_and_the_rest_kept_for_ever(client):
    for path in ["/sw.js", "/app", "/t/K7RM-4TQX", "/build.json", "/manifest.webmanifest"]:
        assert client.get(path).headers["Cache-Control"] == "no-cache"

    asset = client.get(f"/shell/{built(client)}/js/reckon.js")

    assert "immutable" in asset.headers["Cache-Control"]
    assert asset.headers["Content-Type"] == "text/javascript; charset=utf-8"


def test_f20_the_shell_never_redirects_and_asks_nobody_to_sign_in(client, lead):
    for visitor in (client, lead):
        reply = visitor.get("/app")
        assert reply.status_code == 200
        assert "Set-Cookie" not in reply.headers


def test_files_come_compressed_to_whoever_can_read_that(client):
    path = f"/shell/{built(client)}/js/reckon.js"
    plain = client.get(path)
    assert "Content-Encoding" not in plain.headers
    for accepted, coding, unpack in [
        ("gzip, deflate", "gzip", gzip.decompress),
        ("gzip, deflate, br", "br", brotli.decompress),
    ]:
        packed = client.get(path, headers={"Accept-Encoding": accepted})
        assert packed.headers["Content-Encoding"] == coding
        assert packed.headers["Vary"] == "Accept-Encoding"
        assert unpack(packed.data) == plain.data
        assert len(packed.data) < len(plain.data) / 3


def test_a_file_that_did_not_change_is_not_sent_again(client):
    etag = client.get("/app").headers["ETag"]

    reply = client.get("/app", headers={"If-None-Match": etag})

    assert (reply.status_code, reply.data) == (304, b"")


@pytest.mark.parametrize("path", ["/shell/000000000000/js/reckon.js", "/shell/{}/../shell.html"])
def test_nothing_but_this_builds_files_is_to_be_had(client, path):
    assert client.get(path.format(built(client))).status_code == 404
    assert client.get(f"/shell/{built(client)}/sw.js").status_code == 404


@pytest.fixture
def copy(tmp_path):
    return shutil.copytree(static_folder(), tmp_path / "static")


def test_f18_any_change_makes_another_build(copy):
    builds = [Shell(copy).build]
    for name in ["sw.js", "manifest.webmanifest", "js/store/entries.js"]:
        path = copy / name
        path.write_text(path.read_text("utf-8") + "\nconst more = 1;\n", "utf-8")
        builds.append(Shell(copy).build)
    (copy / "js" / "one.js").write_text("export const one = 1;\n", "utf-8")
    builds.append(Shell(copy).build)

    assert len(set(builds)) == 5
    assert all(re.fullmatch("[0-9a-f]{12}", build) for build in builds)
    assert Shell(copy).build == builds[-1]


def test_every_stylesheet_and_script_of_the_desk_and_door_is_there(app):
    shell = app.extensions["shell"]
    named = set()
    for template in app.jinja_env.list_templates():
        text = app.jinja_env.loader.get_source(app.jinja_env, template)[0]
        named |= set(re.findall(r"shell_url\(['\"]([^'\"]+)", text))

    assert sorted(named - set(shell.assets)) == []


def test_the_first_load_grows_no_further(client):
    _, shell = worker_lines(client)
    packed = {"Accept-Encoding": "gzip, br"}

    sizes = [len(client.get(path, headers=packed).data) for path in [*shell, "/app", "/sw.js"]]

    assert sum(sizes) <= 130_600


def test_files_are_compressed_before_anybody_asks(app):
    shell = app.extensions["shell"]
    script = shell.assets["js/app.js"]

    assert brotli.decompress(script.packed["br"]) == script.body
    assert gzip.decompress(script.packed["gzip"]) == script.body
    assert shell.assets["icons/icon-192.png"].packed == {}


def test_the_glossary_comes_later_and_has_every_word_of_the_page(client):
    text = client.get("/sw.js").text
    (later,) = json.loads(re.search(r"^const LATER = (.*);$", text, re.M)[1])
    sections = client.get(later).json
    _, shell = worker_lines(client)

    words = [row[0] for section in sections for row in section["words"]]
    assert later not in shell
    assert len(words) == len(set(words)) > 100 and "track bar" in words
    assert [row for section in sections for row in section["words"] if not row[1]] == []
    assert {
        word for section in sections for word, _, _, always in section["words"] if not always
    } == EVERYDAY
    assert "Here the lateral link is always the track bar." in sections[0]["watch"]
