/** Where in a job this phone was left, for the next start: a phone may end the app at any time. */

const LAST = 'axlewright.last_screen';
// Whoever opens the app the next morning begins with the list.
const FRESH_MS = 12 * 3600 * 1000;

/** Notes the address of the screen that is shown; only those of a job are gone back to. */
export function noteScreen(hash) {
  try {
    if (hash.startsWith('#/job/')) {
      localStorage.setItem(LAST, JSON.stringify({ hash, at: Date.now() }));
    } else localStorage.removeItem(LAST);
  } catch {
    // Without this store the app begins with the list, as it would have anyway.
  }
}

/** The address in a job where an app that was ended had been left not long ago, or null. */
export function lastScreen() {
  try {
    // In a tab that was open all along, whoever comes here means the list.
    if (sessionStorage.getItem(LAST)) return null;
    sessionStorage.setItem(LAST, 'open');
    const { hash, at } = JSON.parse(localStorage.getItem(LAST)) ?? {};
    return Date.now() - at < FRESH_MS ? hash : null;
  } catch {
    return null;
  }
}
