/** Keeps the phone and the shop in step while the app is open, and says honestly how that goes. */

import { Exchange } from './exchange.js';
import { inOneTab } from './one_tab.js';
import { PATIENCE_MS, Trouble } from './http.js';

const TICK_MS = 20000;
// Asking these again by a timer would not help: a person has to do something first.
const WAITS_FOR_PERSON = new Set(['not_paired', 'other_shop']);

/**
 * The pause before the next try after so many failures, in milliseconds: 5 s to 60 s with the usual
 * tick.
 */
function backoff(failures, tick) {
  const pause = Math.min(3 * tick, (tick / 4) * 2 ** (failures - 1));
  return pause * (0.75 + Math.random() / 4);
}

/**
 * What is said once the shop did not answer so often: to a page a lapsed certificate looks like bad
 * Wi-Fi.
 */
const OFTEN = 4;
const UNVERIFIED =
  'The shop does not answer. Readings are saved on this phone. Check the Wi-Fi, and that the ' +
  'shop PC is on. If both are fine, open the shop\u2019s address in the browser: it says whether ' +
  'this phone still trusts the shop\u2019s certificate.';

/** What the state line shows of a trouble; a busy or restored shop is no trouble to the person. */
function stateOf(trouble) {
  const passing = trouble.kind === 'busy' || trouble.kind === 'restored';
  return { trouble: passing ? null : trouble.kind, says: trouble.says };
}

class Shop {
  #store;
  #patience;
  #exchange;
  #state = { heard: null, sending: false, trouble: null, says: '' };
  #onState;
  #running = false;
  #again = false;
  #timer = null;
  #failures = 0;
  #leave = new AbortController();

  constructor(store, { onState, patience, shown }) {
    this.#store = store;
    this.#onState = onState;
    this.#patience = patience;
    this.#exchange = new Exchange(store, {
      patience,
      shown,
      onSending: (sending) => this.#show({ sending }),
    });
    const { signal } = this.#leave;
    const whenVisible = () => {
      if (document.visibilityState === 'visible') this.nudge();
    };
    document.addEventListener('visibilitychange', whenVisible, { signal });
    addEventListener('online', whenVisible, { signal });
    this.#lastHeard().then((heard) => this.#show({ heard }));
    this.nudge();
  }

  /** Exchanges with the shop as soon as possible. */
  nudge() {
    this.#again = true;
    if (!this.#running) this.#run();
  }

  /** Ends the exchange after the round that is under way. */
  stop() {
    this.#leave.abort();
    clearTimeout(this.#timer);
  }

  /** {heard: ISO or null, sending, trouble: null or its kind, says: sentence}. */
  state() {
    return this.#state;
  }

  async #run() {
    this.#running = true;
    clearTimeout(this.#timer);
    let trouble = null;
    while (this.#again && !trouble && !this.#stopped) {
      this.#again = false;
      trouble = await this.#round();
    }
    this.#running = false;
    await this.#schedule(trouble);
  }

  /**
   * Null after a good round, else what went wrong; a restored shop is offered everything at once.
   */
  async #round() {
    try {
      await inOneTab(() => this.#exchange.round(), this.#patience);
      this.#show({ trouble: null, says: '', heard: await this.#store.fact('heard') });
      this.#failures = 0;
      return null;
    } catch (error) {
      const trouble = error instanceof Trouble
        ? error
        : new Trouble('unreachable', { says: error.says, cause: error });
      this.#failures += 1;
      const suspect = trouble.kind === 'unreachable' && this.#failures >= OFTEN && navigator.onLine;
      const says = suspect ? { says: UNVERIFIED } : {};
      this.#show({ ...stateOf(trouble), ...says, heard: await this.#lastHeard() });
      this.#again = trouble.kind === 'restored' && this.#failures === 1;
      return this.#again ? null : trouble;
    }
  }

  async #lastHeard() {
    return this.#store.fact('heard').catch(() => this.#state.heard);
  }

  async #schedule(trouble) {
    if (
      this.#stopped || document.visibilityState !== 'visible' || WAITS_FOR_PERSON.has(trouble?.kind)
    ) return;
    const tick = await this.#store.fact('tick_ms').catch(() => null) ?? TICK_MS;
    const pause = trouble
      ? Math.max(backoff(this.#failures, tick), 1000 * (trouble.retryAfter ?? 0))
      : tick;
    clearTimeout(this.#timer);
    if (!this.#running && !this.#stopped) this.#timer = setTimeout(() => this.nudge(), pause);
  }

  get #stopped() {
    return this.#leave.signal.aborted;
  }

  #show(change) {
    if (Object.entries(change).every(([key, value]) => this.#state[key] === value)) return;
    this.#state = { ...this.#state, ...change };
    this.#onState(this.#state);
  }
}

/**
 * Starts exchanging with the shop; `onState(state)` hears every change of the state line, and the
 * photos in `shown` are fetched beside those of open jobs.
 */
export function startShop(
  store,
  { onState = () => {}, patience = PATIENCE_MS, shown = new Set() } = {},
) {
  return new Shop(store, { onState, patience, shown });
}
