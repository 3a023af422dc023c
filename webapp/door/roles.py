"""Who may use which part of the service; the one place that says so.

A row names an endpoint, or a whole part as `part.*`. What has no row is for nobody.
"""

ANYONE = "anyone"  # signed out, a phone or a lead alike
PHONE = "phone"  # a paired phone, by its credential
LEAD = "lead"  # a lead, by the session of the desk
NOBODY = "nobody"

ROLES = {
    "door.index": ANYONE,
    "door.enter": ANYONE,
    "door.sign_in": ANYONE,
    "door.begin_passkey": ANYONE,
    "door.sign_in_with_passkey": ANYONE,
    "door.sign_out_everywhere": LEAD,
    "door.link": ANYONE,  # the key in its address is what lets in, once
    "door.use_link": ANYONE,
    "door.health": ANYONE,
    "door.trusted": ANYONE,
    "door.security": ANYONE,
    "door.security_txt": ANYONE,
    "door.demo_lead": ANYONE,
    "door.demo_technician": ANYONE,
    "door.sign_out": ANYONE,
    "door.pair": ANYONE,
    "shell.page": ANYONE,
    "shell.tag": ANYONE,
    "shell.asset": ANYONE,
    "shell.worker": ANYONE,
    "shell.manifest": ANYONE,
    "shell.build": ANYONE,
    "exchange.push": PHONE,
    "exchange.pull": PHONE,
    "exchange.hand_back": PHONE,
    "exchange.missing": PHONE,
    "photos.take": PHONE,
    "photos.give": PHONE,
    "tag_pictures.read_tag": PHONE,
    "desk.*": LEAD,
}


def who_may(endpoint: str) -> str:
    """The role that an endpoint asks for."""
    part = endpoint.partition(".")[0]
    return ROLES.get(endpoint) or ROLES.get(f"{part}.*", NOBODY)
