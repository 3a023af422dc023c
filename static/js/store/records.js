/**
 * Records: an entry as its maker wrote it, and beside it what this phone and the shop noted.
 *
 * state          'kept' (on this phone only), 'stored' (the shop has it),
 *                'needs_you' (not accepted) or 'set_aside' (not accepted, and the person has
 *                dealt with it); of others also 'lent' (a restored shop lacks it, and it is handed
 *                back) or 'not_taken' (not even that helped)
 * reason         why the shop did not accept it
 * kept_no        its place among all that were kept on this phone; on entries of others only
 *                while lent
 * seq, person, received_at, seal    noted by the shop; the seal is its word that it had this entry
 */

const HERE_ONLY = ['state', 'reason', 'kept_no', 'seq', 'person', 'received_at', 'seal'];

/** Sorts records by seq, then this phone's own without one as they were kept. */
export function inOrder(a, b) {
  return (a.seq ?? Infinity) - (b.seq ?? Infinity) || a.kept_no - b.kept_no;
}

/** The entry as its maker wrote it, without what this phone and the shop noted beside it. */
export function wireForm(record) {
  return Object.fromEntries(Object.entries(record).filter(([key]) => !HERE_ONLY.includes(key)));
}

/** The entry of another phone with what the shop noted, as a shop that lost it is given it back. */
export function handedForm({ state: _, reason: __, kept_no: ___, ...rest }) {
  return rest;
}

/**
 * The records of new entries, numbered on from `numbers` {kept, last: {phone: local_no}}, which
 * moves along.
 */
export function allot(entries, numbers) {
  return entries.map((entry) => {
    numbers.last[entry.phone] = (numbers.last[entry.phone] ?? 0) + 1;
    numbers.kept += 1;
    return { ...entry, local_no: numbers.last[entry.phone], state: 'kept', kept_no: numbers.kept };
  });
}

/** The record after the shop's answer about it; what is stored stays stored. */
export function answered(record, answer) {
  if (!record) return undefined;
  const { reason: _, ...rest } = record;
  if (record.state === 'lent') return handedBack(rest, answer);
  if (answer.verdict === 'stored' || answer.verdict === 'already') {
    return { ...rest, state: 'stored', seq: answer.seq };
  }
  return record.state === 'stored'
    ? record
    : { ...rest, state: 'needs_you', reason: answer.reason };
}

function handedBack({ kept_no: _, ...record }, { verdict, seq, reason }) {
  return verdict === 'stored' || verdict === 'already'
    ? { ...record, state: 'stored', seq }
    : { ...record, state: 'not_taken', reason };
}

/** The record after a pull that named it; `record` is undefined when this phone did not have it. */
export function pulledOver(record, pulled) {
  if (record?.state === 'needs_you') return record;
  // The maker's own text stays as it was kept; the shop only adds its notes.
  const { seq, person, received_at } = pulled;
  return record?.kept_no && record.state !== 'lent'
    ? { ...record, state: 'stored', seq, person, received_at }
    : { ...pulled, state: 'stored' };
}

/** The record as one that the shop is still to be offered. */
export function unsentAgain(record) {
  const { seq: _, reason: __, ...rest } = record;
  return { ...rest, state: 'kept' };
}

/**
 * The record as a restored shop is to be offered it: anew when it is this phone's own, by its seal
 * when it is another's.
 */
export function offeredAgain(record) {
  if (record.state === 'set_aside' || record.state === 'lent') return record;
  if (record.kept_no) return unsentAgain(record);
  return record.seal ? { ...record, state: 'lent', kept_no: record.seq } : record;
}

/** The ids of the vehicles that the entries are about, each once. */
export function vehiclesOf(entries) {
  return [...new Set(entries.map((entry) => entry.vehicle).filter(Boolean))];
}
