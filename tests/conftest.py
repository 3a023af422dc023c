"""What the tests share: a folder, the service on it, a paired phone and a lead at the desk."""

from hypothesis import settings

settings.register_profile("steady", derandomize=True, database=None, deadline=None)
settings.load_profile("steady")
