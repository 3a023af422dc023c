/**
 * What this phone holds: entries, vehicles, drafts and facts. No answer of the shop erases an
 * entry.
 *
 * StoreBroken    the store does not open, or no longer answers
 * NotKept        the entries are not on this phone
 */

import { readable } from './contract.js';
import { Database, NotKept, StoreBroken } from './database.js';
import { Photos } from './photos.js';
import {
  allot,
  answered,
  inOrder,
  offeredAgain,
  pulledOver,
  unsentAgain,
  vehiclesOf,
  wireForm,
} from './records.js';
import {
  build,
  change,
  changeEach,
  changeFact,
  inEpoch,
  ownIn,
  putFacts,
  tally,
  touch,
} from './stores.js';

export { NotKept, StoreBroken };

function valuesByName(rows) {
  return Object.fromEntries(rows.map(({ name, value }) => [name, value]));
}

class Store {
  #database;
  #listeners = new Set();
  #channel = 'BroadcastChannel' in globalThis ? new BroadcastChannel('axlewright') : null;

  constructor() {
    this.#database = new Database(
      build,
      () => this.#tell('yield'),
      () => this.#tell('emptied'),
    );
    this.photos = new Photos(this.#database, () => this.#announce('entries'));
    if (this.#channel) this.#channel.onmessage = (event) => this.#tell(event.data);
    document.addEventListener('visibilitychange', () => {
      // WebKit may drop the database of a page in the background; this finds out before the person
      // does.
      if (document.visibilityState === 'visible') this.fact('phone').catch(() => {});
    });
  }

  async open() {
    try {
      await this.#database.open();
    } catch (error) {
      error.later = error.later?.then(() => this) ?? null;
      error.later?.catch(() => {});
      throw error;
    }
    return this;
  }

  /**
   * The entries with their `local_no`, once all of them are on this phone's disk, with the `photos`
   * they name, and the draft or drafts `dropDraft` are gone; else rejects with NotKept and nothing
   * has changed.
   *
   * @param {any[]} entries
   * @param {{dropDraft?: string | string[], photos?: any[]}} [options]
   */
  async keep(entries, { dropDraft = [], photos = [] } = {}) {
    try {
      const kept = await this.#database.run(
        ['entries', 'drafts', 'facts', 'photos'],
        'write',
        (transaction) => {
          for (const key of [dropDraft].flat()) transaction.objectStore('drafts').delete(key);
          for (const photo of photos) this.photos.add(transaction, photo);
          touch(transaction, entries);
          return this.#add(transaction, entries);
        },
      );
      this.#announce('entries');
      return kept;
    } catch (error) {
      throw new NotKept(error);
    }
  }

  /**
   * Adds the entries unless an earlier try already did: a connection can be lost after its commit.
   */
  #add(transaction, entries) {
    const store = transaction.objectStore('entries');
    const there = entries.map((entry) => store.get(entry.id));
    const asked = transaction.objectStore('facts').get('numbers');
    let kept = null;
    asked.onsuccess = () => {
      kept = there.map((request) => request.result);
      if (kept.every(Boolean)) return;
      const numbers = asked.result?.value ?? { kept: 0, last: {} };
      kept = allot(entries, numbers);
      for (const record of kept) store.add(record);
      putFacts(transaction, { numbers });
    };
    return () => kept;
  }

  /**
   * The entries of one `job`, `vehicle` or `kind`, by seq, then this phone's own without one; what
   * cannot be read is of the kind `unreadable`.
   */
  async entriesOf(which) {
    const [[index, key]] = Object.entries(which);
    const found = await this.#ask('entries', (store) => store.index(index).getAll(key));
    return found.sort(inOrder).map(readable);
  }

  /** How many entries there are of one `job`, `vehicle` or `kind`. */
  countOf(which) {
    const [[index, key]] = Object.entries(which);
    return this.#ask('entries', (store) => store.index(index).count(key));
  }

  /** Up to `most` entries on this phone only, in the order in which they were kept. */
  unsent(most = undefined) {
    return this.#ask('entries', (store) => store.index('state').getAll(ownIn('kept'), most));
  }

  /** The entries that the shop did not accept, each with its `reason`. */
  needYou() {
    return this.#ask('entries', (store) => store.index('state').getAll(ownIn('needs_you')));
  }

  /**
   * Up to `most` entries of others that a restored shop may lack, in the order in which it had
   * them.
   */
  lent(most = undefined) {
    return this.#ask('entries', (store) => store.index('state').getAll(ownIn('lent'), most));
  }

  /**
   * How many entries and photos the shop lacks, when the oldest was made (ISO or null), how many
   * need the person.
   */
  counts() {
    return this.#database.run(['entries', 'photos'], 'read', tally);
  }

  /** Everything the shop does not have, one entry in wire form a line. */
  async exportUnsent() {
    const records = [...await this.unsent(), ...await this.needYou()];
    return new Blob(records.map((record) => `${JSON.stringify(wireForm(record))}\n`), {
      type: 'application/jsonl',
    });
  }

  /** Notes the shop's answers, and `facts` with them, in one transaction. */
  async takeAnswers(answers, facts = {}) {
    await this.#database.run(['entries', 'facts'], 'write', (transaction) => {
      inEpoch(transaction, facts.epoch, () => {
        for (const answer of answers) {
          change(transaction, answer.id, (record) => answered(record, answer));
        }
        putFacts(transaction, facts);
      });
    });
    this.#announce('entries');
  }

  /**
   * The ids of the vehicles touched by a pull, once its rows, its cursor and `facts` are kept
   * together.
   */
  async takePull(reply, facts = {}) {
    await this.#database.run(['entries', 'facts'], 'write', (transaction) => {
      inEpoch(transaction, reply.epoch, () => {
        for (const pulled of reply.entries) {
          change(transaction, pulled.id, (record) => pulledOver(record, pulled));
        }
        touch(transaction, reply.entries);
        changeFact(transaction, 'people', (known = {}) => ({ ...known, ...reply.people }));
        putFacts(transaction, { cursor: reply.next, ...facts });
      });
    });
    if (reply.entries.length) this.#announce('entries');
    return vehiclesOf(reply.entries);
  }

  /**
   * Makes every entry of this phone unsent again, lends those of others, and starts reading the log
   * from its beginning; keeps `facts` with it.
   */
  async reoffer(epoch, facts = {}) {
    await this.#database.run(['entries', 'facts', 'photos'], 'write', (transaction) => {
      this.photos.reoffer(transaction);
      changeEach(transaction, offeredAgain);
      const afresh = { epoch, cursor: 0, high_water: 0, head: null, fill_until: null };
      putFacts(transaction, { ...afresh, ...facts });
    });
    this.#announce('entries');
    if (Object.keys(facts).length) this.#announce('facts');
  }

  /** Offers the shop once more an entry that it did not accept. */
  offerAgain(id) {
    return this.#mark(id, unsentAgain);
  }

  /**
   * Takes an entry that the shop did not accept off the list of those that need the person; it
   * stays here.
   */
  setAside(id) {
    return this.#mark(id, (record) => ({ ...record, state: 'set_aside' }));
  }

  async #mark(id, how) {
    await this.#database.run(['entries'], 'write', (transaction) => {
      change(
        transaction,
        id,
        (record) => (record?.state === 'needs_you' ? how(record) : undefined),
      );
    });
    this.#announce('entries');
  }

  /** Keeps the text of an unfinished field under `key`. */
  putDraft(key, text) {
    return this.#jot((drafts) => {
      drafts.put({ key, text });
    });
  }

  /** The draft under `key`, or null. */
  async draft(key) {
    return (await this.#ask('drafts', (store) => store.get(key)))?.text ?? null;
  }

  /** Every draft as {key, text}. */
  drafts() {
    return this.#ask('drafts', (store) => store.getAll());
  }

  /** Drops the draft under `key`. */
  dropDraft(key) {
    return this.#jot((drafts) => {
      drafts.delete(key);
    });
  }

  /** The value of a fact, or null. */
  async fact(name) {
    return (await this.#ask('facts', (store) => store.get(name)))?.value ?? null;
  }

  /** Every fact in one object. */
  async facts() {
    return valuesByName(await this.#ask('facts', (store) => store.getAll()));
  }

  /** Every vehicle's summary row and every fact, read together: {vehicles, facts}. */
  overview() {
    return this.#database.run(['vehicles', 'facts'], 'read', (transaction) => {
      const [vehicles, facts] = ['vehicles', 'facts'].map((name) =>
        transaction.objectStore(name).getAll()
      );
      return () => ({ vehicles: vehicles.result, facts: valuesByName(facts.result) });
    });
  }

  /** Keeps one fact. */
  setFact(name, value) {
    return this.setFacts({ [name]: value });
  }

  /** Keeps several facts together, and notes that the summary rows of the vehicles `behind` are. */
  async setFacts(facts, behind = []) {
    await this.#database.run(['facts'], 'write', (transaction) => {
      putFacts(transaction, facts);
      touch(transaction, behind.map((vehicle) => ({ vehicle })));
    });
    this.#announce('facts');
  }

  /**
   * Keeps summary rows {id, tags: [codes], ...} of vehicles and takes them off the touched ones.
   */
  async putVehicles(rows) {
    await this.#database.run(['vehicles', 'facts'], 'write', (transaction) => {
      for (const row of rows) transaction.objectStore('vehicles').put(row);
      const done = new Set(rows.map((row) => row.id));
      changeFact(transaction, 'touched', (known = []) => known.filter((id) => !done.has(id)));
    });
    this.#announce('vehicles');
  }

  /** Every vehicle's summary row. */
  vehicles() {
    return this.#ask('vehicles', (store) => store.getAll());
  }

  /** The summary row of a vehicle, or null. */
  async vehicle(id) {
    return await this.#ask('vehicles', (store) => store.get(id)) ?? null;
  }

  /** The summary row of the vehicle that a tag code leads to, or null. */
  async vehicleByTag(code) {
    const id = (await this.fact('leads'))?.[code];
    return id ? this.vehicle(id) : null;
  }

  /** The ids of vehicles with entries that their summary rows do not show yet. */
  async touched() {
    return await this.fact('touched') ?? [];
  }

  /** Whether the browser promises not to clear the store by itself; asks it to. */
  async persist() {
    const granted = await navigator.storage?.persist?.() ?? false;
    await this.setFact('persisted', granted);
    return granted;
  }

  /** Empties the store for another shop; only to be called once the person has agreed. */
  async startOver() {
    const names = ['entries', 'vehicles', 'drafts', 'facts', 'photos'];
    await this.#database.run(names, 'write', (transaction) => {
      for (const name of names) transaction.objectStore(name).clear();
    });
    this.#announce('entries');
  }

  /**
   * Calls `listener` with 'entries', 'vehicles' or 'facts' after a change here or in another tab,
   * with 'yield' when a newer version of the app needs the store, and with 'emptied' when the store
   * was deleted under this page; returns the way to stop it.
   */
  onChange(listener) {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  #announce(what) {
    this.#channel?.postMessage(what);
    this.#tell(what);
  }

  #tell(what) {
    for (const listener of this.#listeners) listener(what);
  }

  #jot(step) {
    return this.#database.run(
      ['drafts'],
      'jot',
      (transaction) => step(transaction.objectStore('drafts')),
    );
  }

  #ask(name, question) {
    return this.#database.run([name], 'read', (transaction) => {
      const asked = question(transaction.objectStore(name));
      return () => asked.result;
    });
  }
}

const store = new Store();

/**
 * The phone's store, the same one for every caller; rejects with StoreBroken when it does not open.
 */
export function open() {
  return store.open();
}
