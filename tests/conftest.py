"""What the tests share: the service on a folder of its own, a paired phone, a lead at the desk."""

import pytest
from hypothesis import settings
from kit.entries import add_people, hire
from kit.passphrases import CHEAP
from kit.phones import Phone, asking, asking_at, code_for
from kit.servers import Server

from webapp import create_app
from webapp.door.pairing import new_pairing_code
from webapp.shoplog import ShopLog

settings.register_profile("steady", derandomize=True, database=None, deadline=None)
settings.load_profile("steady")


@pytest.fixture
def app(tmp_path):
    """The service with a lead and two technicians, and without form tokens."""
    config = {"DATA": tmp_path / "data", "DEMO": True, "TESTING": True, "WTF_CSRF_ENABLED": False}
    app = create_app({**config, **CHEAP})
    log = app.extensions["shoplog"]
    add_people(log)
    yield app
    log.close()


@pytest.fixture
def log(app):
    """The log of the service."""
    return app.extensions["shoplog"]


@pytest.fixture
def client(app):
    """A browser that nobody is signed in with."""
    return app.test_client()


@pytest.fixture
def lead(app):
    """A browser in which the lead is signed in at the desk."""
    client = app.test_client()
    client.post("/door/demo/lead")
    return client


@pytest.fixture
def new_phone(app, log):
    """Pairs a phone of the first technician, or of the person named."""

    def pair(name="Dana Reyes"):
        return Phone(asking(app.test_client()), code_for(log, name))

    return pair


@pytest.fixture
def phone(new_phone):
    """A technician's paired phone."""
    return new_phone()


@pytest.fixture
def start_server(tmp_path):
    """Starts the real service and pairs a phone with it: (server, phone)."""
    servers = []

    def start(**more):
        folder = tmp_path / "served"
        with ShopLog(folder) as log:
            add_people(log)
            code = new_pairing_code(log, log.people()[0]["id"])
            leads_code = code_for(log, "Orla Bennett")
        servers.append(Server(folder, **more))
        servers[-1].leads_code = leads_code
        servers[-1].start()
        return servers[-1], Phone(asking_at(servers[-1].url), code)

    yield start
    for server in servers:
        server.kill()


@pytest.fixture
def real_server(start_server):
    """The real service and a phone paired with it: (server, phone)."""
    return start_server()


@pytest.fixture
def leads_phone(real_server):
    """A lead's phone, paired with the real service."""
    return Phone(asking_at(real_server[0].url), real_server[0].leads_code)


@pytest.fixture
def log_folder(tmp_path):
    """A folder for a shop's log, without a service."""
    return tmp_path / "shop"


@pytest.fixture
def shop(log_folder):
    """A new log without a service, closed after the test."""
    with ShopLog(log_folder) as opened:
        yield opened


@pytest.fixture
def crew(shop):
    """A technician and a lead of that log, with a phone each."""
    return hire(shop)
