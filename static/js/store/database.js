/**
 * The one file that speaks to IndexedDB: a connection that is opened once, watched, and opened
 * again when the browser drops it.
 *
 * StoreBroken    the store does not open, or no longer answers
 * NotKept        the entries are not on this phone
 */

const NAME = 'axlewright';
// Each version adds to the stores of the one before; none takes anything away.
const VERSION = 2;
const PATIENCE_MS = 3000;
// What browsers throw when they have dropped the database behind an open connection.
const DROPPED = new Set(['AbortError', 'InvalidStateError', 'UnknownError']);

const SAYS = {
  absent: 'This browser gives the app no storage for readings. Turn off private browsing, or use ' +
    'another browser.',
  blocked: 'Another tab is using this app\u2019s data. Close the other tab, then try again.',
  damaged:
    'The data on this phone does not open. Nothing can be saved until it does: try again, then ' +
    'restart the phone.',
  dropped:
    'The storage on this phone stopped responding. Reload this page; everything saved is still ' +
    'there.',
  emptied: 'Not saved: what was saved on this phone was deleted, by somebody or by the browser.',
  newer: 'A newer version of this app is in use on this phone. Reload this page.',
  silent:
    'The storage on this phone does not respond. Try again, or close the browser and open the ' +
    'app again.',
};

/**
 * The store does not open or answer; `says` is a sentence for the person, `later` settles should it
 * open after all, `damaged` tells that opening it fails by itself.
 */
export class StoreBroken extends Error {
  constructor(says, { cause = null, later = null, damaged = false } = {}) {
    super(says, { cause });
    this.name = 'StoreBroken';
    this.says = says;
    this.later = later;
    this.damaged = damaged;
  }
}

/** The entries were not kept, not even in part; `says` is a sentence for the person. */
export class NotKept extends Error {
  constructor(cause) {
    const full = cause.name === 'QuotaExceededError';
    const says = full
      ? 'Not saved: this phone is out of space. Free some space, then save it again.'
      : cause.says ?? 'Not saved: the storage on this phone refused it. Try again.';
    super(says, { cause });
    this.name = 'NotKept';
    this.says = says;
  }
}

function broken(error) {
  if (error instanceof StoreBroken) return error;
  if (error.name === 'VersionError') return new StoreBroken(SAYS.newer, { cause: error });
  if (
    error instanceof ReferenceError || error instanceof TypeError || error.name === 'SecurityError'
  ) {
    return new StoreBroken(SAYS.absent, { cause: error });
  }
  return new StoreBroken(SAYS.damaged, { cause: error, damaged: true });
}

/**
 * Deletes the store with everything in it; true when it is gone. Only once the person has agreed to
 * the loss.
 */
export function throwAway() {
  return new Promise((resolve) => {
    const asked = indexedDB.deleteDatabase(NAME);
    asked.onsuccess = () => resolve(true);
    asked.onerror = () => resolve(false);
    asked.onblocked = () => resolve(false);
  });
}

function wait(milliseconds) {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}

/**
 * The outcome of one transaction, settled only by its `complete` or `abort`; the request's own
 * success says nothing, as a full disk aborts after it. `work` issues every request before it
 * returns, and gives back the function that reads the result.
 */
function transact(handle, names, mode, work) {
  return new Promise((resolve, reject) => {
    const durability = mode === 'jot' ? 'relaxed' : 'strict';
    const transaction = handle.transaction(names, mode === 'read' ? 'readonly' : 'readwrite', {
      durability,
    });
    let read = null;
    transaction.oncomplete = () => resolve(read ? read() : undefined);
    transaction.onabort = () => reject(transaction.error ?? new DOMException('', 'AbortError'));
    try {
      read = work(transaction);
    } catch (error) {
      transaction.abort();
      reject(error);
    }
  });
}

/**
 * One connection to the phone's store, opened when first needed and again when the browser drops
 * it.
 */
export class Database {
  #build;
  #handle = null;
  #opening = null;
  #blocked = false;
  #known = false;
  #emptied = false;
  #untold = false;

  /**
   * A connection whose stores are made by `build(database, from)`, from the version they had;
   * `onyield` hears when a newer version needs the store, and `onemptied` when it was deleted under
   * this page and made anew.
   */
  constructor(build, onyield, onemptied) {
    this.#build = build;
    this.onyield = onyield;
    this.onemptied = onemptied;
  }

  /** Settles when the store is open, or rejects with StoreBroken after three seconds at most. */
  async open() {
    await this.#connect();
  }

  /**
   * What `work(transaction)` reads, once the transaction is complete; run once more on a new
   * connection when the browser dropped the old one. Modes: 'read', 'write' (on disk before it
   * settles) and 'jot' (soon on disk).
   */
  async run(names, mode, work) {
    const handle = await this.#connect();
    this.#mustNotBeEmptied(mode);
    try {
      return await transact(handle, names, mode, work);
    } catch (error) {
      if (this.#handle === handle && !DROPPED.has(error.name)) throw error;
      this.#drop(handle);
      return this.#lastTry(names, mode, work);
    }
  }

  async #lastTry(names, mode, work) {
    const handle = await this.#connect();
    this.#mustNotBeEmptied(mode);
    try {
      return await transact(handle, names, mode, work);
    } catch (error) {
      if (!DROPPED.has(error.name)) throw error;
      this.#drop(handle);
      throw new StoreBroken(SAYS.dropped, { cause: error });
    }
  }

  /** Rejects the first write into a store that was made anew: whoever writes knows it as it was. */
  #mustNotBeEmptied(mode) {
    if (mode !== 'write' || !this.#untold) return;
    this.#untold = false;
    throw new StoreBroken(SAYS.emptied);
  }

  #connect() {
    if (this.#handle) return this.#handle;
    if (!this.#opening) {
      this.#opening = this.#ask();
      this.#opening.catch(() => {}).then(() => {
        this.#opening = null;
      });
    }
    return Promise.race([this.#opening, this.#giveUp(this.#opening)]);
  }

  async #giveUp(opening) {
    await Promise.race([opening.catch(() => {}), wait(PATIENCE_MS)]);
    if (this.#handle) return this.#handle;
    // The next caller asks anew, as a request that WebKit forgot is never answered.
    if (this.#opening === opening) this.#opening = null;
    throw new StoreBroken(this.#blocked ? SAYS.blocked : SAYS.silent, { later: opening });
  }

  /**
   * The first of two requests to be answered: the second is made when the first fails or is slow.
   */
  async #ask() {
    const first = this.#request();
    const second = Promise.race([first.catch(() => {}), wait(PATIENCE_MS / 2)])
      .then(() => this.#handle ?? this.#request());
    try {
      return await Promise.any([first, second]);
    } catch (failed) {
      throw broken(failed.errors.at(-1));
    }
  }

  #request() {
    return new Promise((resolve, reject) => {
      const asked = indexedDB.open(NAME, VERSION);
      asked.onupgradeneeded = (event) => {
        this.#emptied = this.#known && event.oldVersion === 0;
        this.#build(asked.result, event.oldVersion);
      };
      asked.onblocked = () => {
        this.#blocked = true;
      };
      asked.onsuccess = () => resolve(this.#adopt(asked.result));
      asked.onerror = () => reject(asked.error);
    });
  }

  #adopt(handle) {
    this.#blocked = false;
    if (this.#handle) {
      handle.close();
      return this.#handle;
    }
    handle.onclose = () => this.#drop(handle);
    handle.onversionchange = () => {
      this.#drop(handle);
      this.onyield();
    };
    this.#handle = handle;
    this.#known = true;
    if (this.#emptied) {
      this.#emptied = false;
      this.#untold = true;
      queueMicrotask(this.onemptied);
    }
    return handle;
  }

  #drop(handle) {
    handle.close();
    if (this.#handle === handle) this.#handle = null;
  }
}
