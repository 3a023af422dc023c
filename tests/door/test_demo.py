"""The demo's two ways in, and that a shop has none."""

from kit.phones import Phone, asking

from webapp import create_app


def test_the_demo_says_that_it_is_one(client):
    page = client.get("/door").text

    assert "This is a demo." in page
    assert page.count("<button>") == 2


def test_without_a_demo_the_demos_doors_are_shut(tmp_path):
    app = create_app({"DATA": tmp_path / "data", "WTF_CSRF_ENABLED": False})
    with app.extensions["shoplog"] as log:
        log.add_person("Orla Bennett", "lead")
        client = app.test_client()

        assert client.post("/door/demo/lead").status_code == 404
        assert client.post("/door/demo/technician").status_code == 404
        page = client.get("/door").text

    assert "demo" not in page
    assert "<button>" not in page


def test_the_technicians_button_opens_the_app_with_a_code_for_it(app, client):
    address = client.post("/door/demo/technician").headers["Location"]

    path, _, code = address.partition("#pair=")
    phone = Phone(asking(app.test_client()), code)
    assert path == "/app"
    assert phone.person["name"] == "Dana Reyes"
