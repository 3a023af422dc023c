/**
 * Photos on this phone: {sha256, bytes, made_at, state}, apart from the entries that name them.
 *
 * state    'kept' (the shop lacks it), 'stored' (the shop has it), 'needs_you' (not accepted, with
 *          its `reason`) or 'fetched' (as the shop gave it, which wrote it anew)
 */

import { inEpoch, ownIn } from './stores.js';

// Of what the shop has, the phone goes on holding this many, to show them without the network.
const MOST_STORED = 100;

export class Photos {
  #database;
  #announce;

  /** The photos in this database; `announce()` is called after every change. */
  constructor(database, announce) {
    this.#database = database;
    this.#announce = announce;
  }

  /** Adds a photo within a transaction; one that is here already stays as it is. */
  add(transaction, { sha256, bytes, made_at }) {
    const photos = transaction.objectStore('photos');
    const asked = photos.get(sha256);
    asked.onsuccess = () => {
      if (!asked.result) photos.put({ sha256, bytes, made_at, state: 'kept' });
    };
  }

  /** The photo of this hash, or null. */
  async photo(sha256) {
    return await this.#ask((photos) => photos.get(sha256)) ?? null;
  }

  /** The oldest photo that the shop lacks, or null. */
  async next() {
    return (await this.#ask((photos) => photos.index('state').getAll(ownIn('kept'), 1)))[0] ?? null;
  }

  /** Every photo in one state, oldest first. */
  inState(state) {
    return this.#ask((photos) => photos.index('state').getAll(ownIn(state)));
  }

  /** Notes that the shop has this photo, unless the shop went back to another epoch meanwhile. */
  async stored(sha256, epoch) {
    await this.#database.run(['photos', 'facts'], 'write', (transaction) => {
      inEpoch(transaction, epoch, () => {
        this.#change(
          transaction,
          sha256,
          ({ reason: _, ...photo }) => ({ ...photo, state: 'stored' }),
          () => this.#forget(transaction),
        );
      });
    });
    this.#announce();
  }

  /** Notes why the shop did not accept this photo; it stays here. */
  refused(sha256, reason) {
    return this.#mark(sha256, (photo) => ({ ...photo, state: 'needs_you', reason }));
  }

  /** Offers the shop once more a photo that it did not accept. */
  offerAgain(sha256) {
    return this.#mark(sha256, ({ reason: _, ...photo }) => ({ ...photo, state: 'kept' }));
  }

  /** Of these names, those of which this phone has no photo. */
  async lacking(names) {
    const here = new Set(await this.#ask((photos) => photos.getAllKeys()));
    return names.filter((name) => !here.has(name));
  }

  /** Keeps a photo as the shop gave it. */
  async fetched(sha256, bytes) {
    await this.#database.run(['photos'], 'write', (transaction) => {
      const made_at = new Date().toISOString();
      transaction.objectStore('photos').put({ sha256, bytes, made_at, state: 'fetched' });
    });
    this.#announce();
  }

  /** Lets go of the photos that the shop gave, all but these. */
  letGo(names) {
    return this.#database.run(['photos'], 'write', (transaction) => {
      const photos = transaction.objectStore('photos');
      const asked = photos.index('state').getAllKeys(ownIn('fetched'));
      asked.onsuccess = () => {
        for (const sha256 of asked.result) if (!names.includes(sha256)) photos.delete(sha256);
      };
    });
  }

  /**
   * Makes every photo one that the shop lacks, within a transaction; those that it wrote anew are
   * no longer what their names say.
   */
  reoffer(transaction) {
    const asked = transaction.objectStore('photos').getAll();
    asked.onsuccess = () => {
      for (const photo of asked.result.filter(({ state }) => state !== 'fetched')) {
        transaction.objectStore('photos').put({ ...photo, state: 'kept' });
      }
    };
  }

  async #mark(sha256, how) {
    await this.#database.run(
      ['photos'],
      'write',
      (transaction) => this.#change(transaction, sha256, how),
    );
    this.#announce();
  }

  #change(transaction, sha256, how, then = () => {}) {
    const photos = transaction.objectStore('photos');
    const asked = photos.get(sha256);
    asked.onsuccess = () => {
      if (asked.result) photos.put(how(asked.result));
      then();
    };
  }

  // Only what the shop has acknowledged is ever let go of, and the oldest of it first.
  #forget(transaction) {
    const photos = transaction.objectStore('photos');
    const asked = photos.index('state').getAllKeys(ownIn('stored'));
    asked.onsuccess = () => {
      for (const sha256 of asked.result.slice(0, -MOST_STORED)) photos.delete(sha256);
    };
  }

  #ask(question) {
    return this.#database.run(['photos'], 'read', (transaction) => {
      const asked = question(transaction.objectStore('photos'));
      return () => asked.result;
    });
  }
}
