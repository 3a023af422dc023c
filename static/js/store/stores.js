/** The stores inside the phone's database, and single steps to take inside one transaction. */

import { vehiclesOf } from './records.js';

/** Makes the stores and indexes that a database of version `from` lacks; 0 is an empty one. */
export function build(database, from) {
  if (from < 1) first(database);
  if (from < 2) {
    const photos = database.createObjectStore('photos', { keyPath: 'sha256' });
    photos.createIndex('state', ['state', 'made_at']);
  }
}

function first(database) {
  const entries = database.createObjectStore('entries', { keyPath: 'id' });
  for (const name of ['vehicle', 'job', 'kind']) entries.createIndex(name, name);
  // Entries of others have no kept_no and so no place in this index: it holds this phone's own.
  entries.createIndex('state', ['state', 'kept_no']);
  const vehicles = database.createObjectStore('vehicles', { keyPath: 'id' });
  vehicles.createIndex('tags', 'tags', { multiEntry: true });
  database.createObjectStore('drafts', { keyPath: 'key' });
  database.createObjectStore('facts', { keyPath: 'name' });
}

/**
 * The range of an index `state` that holds this phone's own entries, or its photos, in that state.
 */
export function ownIn(state) {
  return IDBKeyRange.bound([state], [state, []]);
}

/** Counts what the shop lacks, within a transaction; gives the function that reads the outcome. */
export function tally(transaction) {
  const entries = transaction.objectStore('entries').index('state');
  const photos = transaction.objectStore('photos').index('state');
  const [kept, needing, shots, refused] = [entries, photos].flatMap((
    states,
  ) => [states.count(ownIn('kept')), states.count(ownIn('needs_you'))]);
  const [first, shot] = [entries.getAll(ownIn('kept'), 1), photos.openKeyCursor(ownIn('kept'))];
  const made = () => [first.result[0]?.made_at, shot.result?.key[1]].filter(Boolean);
  return () => ({
    onPhoneOnly: kept.result,
    photos: shots.result,
    needYou: needing.result + refused.result,
    oldest: made().sort((a, b) => Date.parse(a) - Date.parse(b))[0] ?? null,
  });
}

/** Changes the record of an entry to what `how(record or undefined)` gives, if anything. */
export function change(transaction, id, how) {
  const entries = transaction.objectStore('entries');
  const asked = entries.get(id);
  asked.onsuccess = () => {
    const next = how(asked.result);
    if (next) entries.put(next);
  };
}

/** Changes the record of every entry to what `how(record)` gives. */
export function changeEach(transaction, how) {
  const asked = transaction.objectStore('entries').openCursor();
  asked.onsuccess = () => {
    const cursor = asked.result;
    if (!cursor) return;
    const next = how(cursor.value);
    if (next !== cursor.value) cursor.update(next);
    cursor.continue();
  };
}

/** Puts each fact of {name: value}. */
export function putFacts(transaction, facts) {
  for (const [name, value] of Object.entries(facts)) {
    transaction.objectStore('facts').put({ name, value });
  }
}

/** Changes one fact to `change(value or undefined)`. */
export function changeFact(transaction, name, change) {
  const asked = transaction.objectStore('facts').get(name);
  asked.onsuccess = () => putFacts(transaction, { [name]: change(asked.result?.value) });
}

/** Notes that the summary rows of the entries' vehicles are behind. */
export function touch(transaction, entries) {
  const ids = vehiclesOf(entries);
  if (ids.length) {
    changeFact(transaction, 'touched', (known = []) => [...new Set([...known, ...ids])]);
  }
}

/**
 * Takes the steps unless the shop has moved to another epoch than `epoch` since the reply was asked
 * for.
 */
export function inEpoch(transaction, epoch, steps) {
  const asked = transaction.objectStore('facts').get('epoch');
  asked.onsuccess = () => {
    if (epoch === undefined || asked.result?.value === epoch) steps();
  };
}
