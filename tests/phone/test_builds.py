"""The build before this one goes on being served, also after the service was started again."""

import shutil

import pytest

from webapp import create_app
from webapp.phone.builds import Builds
from webapp.phone.shell_files import Shell, static_folder


@pytest.fixture
def deploy(tmp_path):
    """Starts the service with this text in one file, its own kind of a new build."""
    static = tmp_path / "static"
    shutil.copytree(static_folder(), static)
    apps = []

    def start(text):
        for app in apps:
            app.extensions["shoplog"].close()
        (static / "js" / "desk.js").write_text(f'let text="{text}"')
        app = create_app({"DATA": tmp_path / "data", "STATIC": static, "TESTING": True})
        apps.append(app)
        client = app.test_client()
        return client, client.get("/build.json").json["build"]

    yield start
    apps[-1].extensions["shoplog"].close()


def says(text):
    """The file of the build that was deployed with this text."""
    return f'let text="{text}"'


def file_of(client, build):
    reply = client.get(f"/shell/{build}/js/desk.js")
    return reply.text.strip() if reply.status_code == 200 else reply.status_code


def test_f17_the_last_two_builds_are_served_also_after_a_restart(deploy):
    _, first = deploy("one")
    _, second = deploy("two")
    client, again = deploy("two")

    assert again == second != first
    assert file_of(client, second) == says("two")
    assert file_of(client, first) == says("one")
    assert "immutable" in client.get(f"/shell/{first}/js/desk.js").headers["Cache-Control"]


def test_f17_a_third_build_lets_the_first_go(deploy):
    builds = [deploy(text)[1] for text in ("one", "two")]
    client, third = deploy("three")

    assert [file_of(client, each) for each in [*builds, third]] == [404, says("two"), says("three")]


def test_f17_a_build_that_is_put_back_counts_as_the_newest(deploy):
    _, first = deploy("one")
    _, second = deploy("two")
    deploy("one")
    client, _ = deploy("three")

    assert (file_of(client, first), file_of(client, second)) == (says("one"), 404)


def test_f17_a_damaged_file_of_a_build_is_no_reason_to_fail(deploy, tmp_path):
    _, first = deploy("one")
    [kept] = (tmp_path / "data" / "builds").iterdir()
    kept.write_bytes(b"no zip")
    client, _ = deploy("two")

    assert file_of(client, first) == 404


def test_f50_a_folder_that_takes_nothing_does_not_stop_the_service(tmp_path, caplog):
    (tmp_path / "builds").write_text("in the way")

    Builds(tmp_path / "builds").keep(Shell(static_folder()))

    assert "not kept for later" in caplog.text


def test_nothing_but_files_of_a_build_is_had_by_its_address(deploy):
    client, build = deploy("one")

    for path in ("../shop.db", "%2e%2e/shop.db", "js/none.js"):
        assert client.get(f"/shell/{build}/{path}").status_code == 404
