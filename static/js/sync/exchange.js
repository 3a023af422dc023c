/**
 * One exchange with the shop: sends what it lacks, reads what is new in the log, then sends photos
 * and fetches those of others.
 */

import { BUILD, uuid } from '../store/entries.js';
import { handedForm, wireForm } from '../store/records.js';
import { ask, heard, stranger, Trouble, trusted, VERSION } from './http.js';

const MOST_SENT = 100;
const MOST_CHARACTERS = 100000;
const MOST_READ = 500;
// A photo is some hundred times as large as a batch of readings.
const PHOTO_PATIENCE = 6;
// A photo that the shop lacks is asked for again after so long: its phone may be out of reach.
const LACKING_MS = 60000;
const VERDICTS = new Set(['stored', 'already', 'differs', 'refused']);

// The two ways in: this phone's own entries, and those of others that the shop had and lost.
const OWN = { path: '/log/push', form: wireForm, more: (_facts) => ({}) };
const LENT = {
  path: '/log/hand_back',
  form: handedForm,
  more: (facts) => ({ people: namesOf(facts.people) }),
};

function namesOf(people = {}) {
  return Object.fromEntries(Object.entries(people).map(([id, { name }]) => [id, name]));
}

/** The bytes of a base64 text. */
function bytesOf(base64) {
  return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0)).buffer;
}

/** The trouble of a shop that moved away: it still takes what this phone holds. */
function ifMoved(trouble) {
  if (trouble.kind !== 'moved') throw trouble;
  return trouble;
}

/** What is kept of a shop whose log is not the one that this phone knew. */
function partedFacts({ parted }) {
  return parted ? { parted_at: new Date().toISOString() } : {};
}

/** As many of the entries, from the first, as one batch may carry. */
function fitting(entries) {
  let size = 0;
  const over = entries.findIndex((entry) =>
    (size += JSON.stringify(entry).length) > MOST_CHARACTERS
  );
  return over < 0 ? entries : entries.slice(0, Math.max(over, 1));
}

/** The answers that name an entry of the batch with a verdict this app knows. */
function answersFor(batch, answers) {
  const ids = new Set(batch.map((entry) => entry.id));
  const usable = ({ id, verdict, seq }) =>
    ids.has(id) && VERDICTS.has(verdict) &&
    (Number.isInteger(seq) || verdict === 'differs' || verdict === 'refused');
  return Array.isArray(answers) ? answers.filter(usable) : [];
}

/** Sends and reads over and over, and remembers between the rounds what the network bears. */
export class Exchange {
  #store;
  #patience;
  #onSending;
  #size = MOST_SENT;
  #greeted = false;
  #askedMissing = false;
  #shown;
  #askAgain = new Map();

  /**
   * An exchange for the store's phone; `onSending(bool)` hears when entries are under way, `shown`
   * is a set of photos that are looked at.
   */
  constructor(store, { patience, onSending, shown }) {
    this.#store = store;
    this.#shown = shown;
    this.#patience = patience;
    this.#onSending = onSending;
  }

  /**
   * Sends everything unsent, reads everything new, and hands back what others made and a restored
   * shop lost; rejects with Trouble, and what was answered by then stands.
   */
  async round() {
    try {
      await this.#sendAll();
      const moved = await this.#readAll().catch(ifMoved);
      await this.#handAllBack();
      if (!moved) await this.#askMissing();
      await this.#sendPhotos();
      if (moved) throw moved;
      await this.#fetchPhotos();
    } catch (trouble) {
      // After any trouble another machine may answer at this address: it is asked its name before
      // it is sent entries.
      this.#greeted = false;
      if (trouble.kind === 'restored') {
        await this.#store.reoffer(trouble.epoch, partedFacts(trouble));
      }
      throw trouble;
    } finally {
      this.#onSending(false);
    }
  }

  /**
   * The facts of the pairing, read before every question so that replies are held against what was
   * known then.
   */
  async #facts() {
    const facts = await this.#store.facts();
    if (!facts.credential) throw new Trouble('not_paired');
    return facts;
  }

  async #sendAll() {
    if (!this.#greeted) await this.#greet();
    for (;;) {
      const batch = fitting(await this.#store.unsent(this.#size));
      this.#onSending(batch.length > 0);
      if (!batch.length) return;
      await this.#send(batch);
    }
  }

  async #handAllBack() {
    for (;;) {
      const batch = fitting(await this.#store.lent(this.#size));
      if (!batch.length) return;
      await this.#send(batch, LENT);
    }
  }

  /**
   * Notes, once while the app is open, which entries of this person's other phones never arrived.
   */
  async #askMissing() {
    if (this.#askedMissing) return;
    const facts = await this.#facts();
    const reply = trusted(await this.#ask('/log/missing', facts), facts);
    await this.#store.setFact('missing', Array.isArray(reply.phones) ? reply.phones : []);
    this.#askedMissing = true;
  }

  /**
   * Asks the shop its name, and has a phone that starts empty skip what is old up to the log's
   * present end.
   */
  async #greet() {
    const reply = await this.#push([]);
    const fill = await this.#store.fact('cursor') ? {} : { fill_until: reply.high_water };
    await this.#store.takeAnswers([], { ...heard(reply), ...fill });
    this.#greeted = true;
  }

  async #send(batch, lane = OWN) {
    try {
      const reply = await this.#push(batch, lane);
      await this.#take(batch, reply);
      this.#size = Math.min(MOST_SENT, this.#size * 2);
    } catch (trouble) {
      this.#size = Math.max(1, Math.floor(this.#size / 2));
      if (trouble.kind !== 'refused' && trouble.kind !== 'too_large') throw trouble;
      await this.#bisect(batch, trouble, lane);
    }
  }

  async #take(batch, reply) {
    const answers = answersFor(batch, reply.answers);
    if (!answers.length) throw stranger();
    await this.#store.takeAnswers(answers, heard(reply));
  }

  /**
   * Sends the halves of a batch that was turned away as a whole, so that one bad entry does not
   * hold up the rest.
   */
  async #bisect(batch, trouble, lane) {
    if (batch.length > 1) {
      const middle = Math.ceil(batch.length / 2);
      await this.#send(batch.slice(0, middle), lane);
      await this.#send(batch.slice(middle), lane);
      return;
    }
    await this.#blameShopIfAllIsRefused();
    await this.#store.takeAnswers([{ id: batch[0].id, verdict: 'refused', reason: trouble.says }]);
  }

  /** Rejects when the shop turns away an empty batch too: then no entry is at fault. */
  async #blameShopIfAllIsRefused() {
    try {
      await this.#push([]);
    } catch (trouble) {
      throw trouble.kind === 'refused' ? new Trouble('old_shop') : trouble;
    }
  }

  /**
   * The shop's trusted reply to a batch; `pending_count` is what the shop will still lack once it
   * has the batch.
   */
  async #push(batch, lane = OWN) {
    const facts = await this.#facts();
    const batch_id = uuid();
    const body = {
      v: VERSION,
      batch_id,
      server_id: facts.server_id,
      epoch: facts.epoch,
      head: facts.head ?? null,
      phone: facts.phone.id,
      build: BUILD,
      ...await this.#leftAfter(lane === OWN ? batch : []),
      last_local_no: facts.numbers?.last[facts.phone.id] ?? 0,
      entries: batch.map(lane.form),
      ...lane.more(facts),
    };
    const reply = trusted(await this.#ask(lane.path, facts, body), facts);
    if (reply.batch_id !== batch_id) throw stranger();
    return reply;
  }

  async #leftAfter(batch) {
    const { onPhoneOnly } = await this.#store.counts();
    const [next] = (await this.#store.unsent(batch.length + 1)).slice(batch.length);
    return {
      pending_count: Math.max(0, onPhoneOnly - batch.length),
      oldest_pending_at: next?.made_at ?? null,
    };
  }

  #ask(path, { credential }, body) {
    return ask(path, { body, credential, patience: this.#patience });
  }

  async #readAll() {
    let reply = null;
    do {
      reply = await this.#readPage();
    } while (reply.more);
  }

  async #readPage() {
    const facts = await this.#facts();
    const since = facts.cursor ?? 0;
    const query = new URLSearchParams({ since: String(since), most: String(MOST_READ) });
    if (facts.fill_until) query.set('recent_until', facts.fill_until);
    const reply = trusted(await this.#ask(`/log/pull?${query}`, facts), facts);
    if (
      !Array.isArray(reply.entries) || !(reply.next >= since) ||
      (reply.more && reply.next === since)
    ) throw stranger();
    const fill_until = reply.more ? facts.fill_until ?? null : null;
    await this.#store.takePull(reply, { ...heard(reply), fill_until });
    return reply;
  }

  /**
   * Sends the photos that the shop lacks one by one, after the readings, so that these never wait
   * for them.
   */
  async #sendPhotos() {
    const next = () => this.#store.photos.next();
    for (let photo = await next(); photo; photo = await next()) {
      this.#onSending(true);
      await this.#sendPhoto(photo);
    }
  }

  /**
   * Sends one photo; one that the shop does not take is told to the person and holds up nothing
   * else.
   */
  async #sendPhoto({ sha256, bytes }) {
    const facts = await this.#facts();
    try {
      const asked = ask(`/log/photos/${sha256}`, {
        photo: bytes,
        credential: facts.credential,
        patience: PHOTO_PATIENCE * this.#patience,
      });
      const reply = trusted(await asked, facts);
      if (reply.sha256 !== sha256) throw stranger();
      await this.#store.photos.stored(sha256, facts.epoch);
    } catch (trouble) {
      if (trouble.kind !== 'refused' && trouble.kind !== 'too_large') throw trouble;
      await this.#store.photos.refused(sha256, trouble.told ?? trouble.says);
    }
  }

  /**
   * Fetches the photos of jobs that are open or looked at, and lets go of those that are not any
   * more.
   */
  async #fetchPhotos() {
    const jobs = (await this.#store.vehicles()).flatMap((vehicle) => vehicle.jobs);
    const wanted = [...new Set([...jobs.flatMap(({ photos }) => photos), ...this.#shown])];
    for (const sha256 of await this.#store.photos.lacking(wanted)) {
      if (!(Date.now() < this.#askAgain.get(sha256))) await this.#fetchPhoto(sha256);
    }
    await this.#store.photos.letGo(wanted);
  }

  async #fetchPhoto(sha256) {
    const facts = await this.#facts();
    const reply = trusted(
      await ask(`/log/photos/${sha256}`, {
        credential: facts.credential,
        patience: PHOTO_PATIENCE * this.#patience,
      }),
      facts,
    );
    if (reply.jpeg) await this.#store.photos.fetched(sha256, bytesOf(reply.jpeg));
    else this.#askAgain.set(sha256, Date.now() + LACKING_MS);
  }
}
