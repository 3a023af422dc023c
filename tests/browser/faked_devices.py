"""What a page is made to take itself for: an iPhone, a phone whose store is damaged."""

IPHONE = (
    "Mozilla/5.0 (iPhone; CPU iPhone OS 18_1 like Mac OS X) AppleWebKit/605.1.15 "
    "(KHTML, like Gecko) Version/18.1 Mobile/15E148 Safari/604.1"
)
DAMAGED = """
  globalThis.thrownAway = 0;
  const realDelete = IDBFactory.prototype.deleteDatabase;
  IDBFactory.prototype.deleteDatabase = function (...values) {
    sessionStorage.setItem('thrown away', 'yes');
    return realDelete.apply(this, values);
  };
  const realOpen = IDBFactory.prototype.open;
  IDBFactory.prototype.open = function (...values) {
    if (!sessionStorage.getItem('damaged') || sessionStorage.getItem('thrown away')) {
      return realOpen.apply(this, values);
    }
    const asked = {error: new DOMException('No backing store', 'UnknownError')};
    setTimeout(() => asked.onerror(), 0);
    return asked;
  };
"""
