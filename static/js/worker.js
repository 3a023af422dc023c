/**
 * The page's side of the service worker: registers it, watches for a new build, and changes over
 * when told.
 */

const SAYS = {
  none: 'This browser cannot work offline: the app opens only while it can reach the shop.',
  first: 'The app is on this phone and opens without the network.',
  ready: 'A new version of the app is ready.',
  failed: 'A new version of the app could not be downloaded completely. This one keeps working.',
  changed: 'Another tab updated the app. Reload this page when you are ready.',
};

class Worker {
  #onUpdate;
  #registration = null;
  #applying = false;

  constructor(onUpdate) {
    this.#onUpdate = (state) => onUpdate({ state, says: SAYS[state] });
  }

  async start() {
    const { serviceWorker } = navigator;
    if (!serviceWorker) return this.#onUpdate('none');
    const controlled = Boolean(serviceWorker.controller);
    serviceWorker.addEventListener('controllerchange', () => this.#changed(controlled));
    try {
      this.#registration = await serviceWorker.register('/sw.js', { updateViaCache: 'none' });
    } catch {
      // Refused for an untrusted certificate, or out of reach; a worker from before still serves.
      return controlled ? undefined : this.#onUpdate('none');
    }
    this.#watch();
    serviceWorker.ready.then(({ active }) => active.postMessage('later'));
  }

  #watch() {
    const registration = this.#registration;
    if (registration.waiting) this.#onUpdate('ready');
    if (registration.installing) this.#follow(registration.installing);
    registration.addEventListener('updatefound', () => this.#follow(registration.installing));
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible') this.check();
    });
  }

  #follow(worker) {
    const first = !this.#registration.active;
    let installed = false;
    worker.addEventListener('statechange', () => {
      if (worker.state === 'installed') installed = true;
      if (worker.state === 'installed' && !first) this.#onUpdate('ready');
      if (worker.state === 'activated' && first) this.#onUpdate('first');
      if (worker.state === 'redundant' && !installed) this.#onUpdate(first ? 'none' : 'failed');
    });
  }

  #changed(controlled) {
    if (this.#applying) {
      this.#applying = false;
      location.reload();
    } else if (controlled) {
      this.#onUpdate('changed');
    }
  }

  /** Looks for a new build; out of reach of the shop it stays as it is. */
  async check() {
    await this.#registration?.update().catch(() => {});
  }

  /**
   * Changes over to the build that is ready and loads the page once more; false when none is ready.
   */
  apply() {
    const waiting = this.#registration?.waiting;
    if (!waiting) return false;
    this.#applying = true;
    waiting.postMessage('apply');
    return true;
  }
}

/**
 * Starts the service worker; `onUpdate({state, says})` hears 'none', 'first', 'ready', 'failed' or
 * 'changed'. Returns {check(), apply()} once it is registered.
 */
export async function startWorker({ onUpdate = () => {} } = {}) {
  const worker = new Worker(onUpdate);
  await worker.start();
  return worker;
}
