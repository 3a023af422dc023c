/** Keeps the screen lit while something is being measured, where the browser can. */

export class Wake {
  #wanted = false;
  #lock = null;

  constructor() {
    // The browser takes the lock away whenever the page is hidden.
    document.addEventListener('visibilitychange', () => this.#meet());
  }

  /** Whether the screen is to stay lit from here on. */
  want(wanted) {
    this.#wanted = wanted;
    return this.#meet();
  }

  async #meet() {
    if (!this.#wanted) return this.#release();
    if (document.visibilityState !== 'visible' || (this.#lock && !this.#lock.released)) return;
    // Refused when the battery is low: then the screen goes dark as it always does.
    const lock = await navigator.wakeLock?.request('screen').catch(() => null) ?? null;
    this.#lock = lock;
    if (!this.#wanted) this.#release();
  }

  #release() {
    this.#lock?.release();
    this.#lock = null;
  }
}
