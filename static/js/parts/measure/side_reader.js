/** A step in which readings go left and right by turns: the pad, the columns and their drafts. */

import { askReason, readingsOf, sidesTable, typedWords } from './readings.js';
import { askOf } from './asked.js';
import { confirming, isOpen } from './step.js';
import { loadJob } from '../../model.js';
import { tapeFor, TapePad } from './tape_pad.js';

const DRAFT_MS = 300;

/** How many readings of a side count: those that stand, and that no change came after. */
function counted(readings, side) {
  return readings.filter(({ entry, stands, overtaken }) =>
    stands && !overtaken && entry.body.field === side
  ).length;
}

/** The side whose reading is wanted next, or null when each side has `wanted`. */
export function nextSide(readings, wanted) {
  return ['left', 'right'].find((side) => counted(readings, side) < wanted) ?? null;
}

/** Keeps the text being typed under a key, shortly after each change. */
export class Draft {
  constructor(store) {
    this.store = store;
  }

  note(key, text) {
    this.cancel();
    this.timer = setTimeout(() => this.store.putDraft(key, text).catch(() => {}), DRAFT_MS);
  }

  // A late draft must not bring back what was just kept.
  cancel() {
    clearTimeout(this.timer);
  }
}

/**
 * Pad and columns of one step of a job, which wants `wanted` readings of a side; `extra()` is laid
 * into each reading's body, and `foresee(job)` is the answer, if there is one, of the job with a
 * reading that is being kept; `replaces` is the id of a reading that is measured again.
 */
export class SideReader {
  /**
   * @param {any} app
   * @param {{job: any, round: string, step: string, wanted?: number, extra?: () => any,
   *   foresee?: any, replaces?: string | null}} options
   */
  constructor(
    app,
    { job, round, step, wanted = 1, extra = () => ({}), foresee = null, replaces = null },
  ) {
    this.app = app;
    this.job = job;
    this.round = round;
    this.step = step;
    this.wanted = wanted;
    this.extra = extra;
    this.foresee = foresee;
    this.replaces = replaces;
    this.side = null;
    this.draft = new Draft(app.store);
    this.pad = new TapePad({
      tape: app.tape ?? tapeFor(job.units, job.record.read_to),
      askBack: (reading) =>
        askOf(job, round, `${step}.${this.side}`, reading.value, [this.#drafted(reading)]),
      onKeep: (reading) => this.#keep(reading),
      onText: (text) => this.#typed(text),
      onTape: (name) => {
        app.tape = name;
      },
    });
    this.element = this.#table();
  }

  get draftKey() {
    return `${this.job.job}|${this.round}|${this.step}|${this.side}`;
  }

  get readings() {
    return readingsOf(this.job, this.round, this.step);
  }

  /** Turns to a side, and brings back what was being typed there. */
  async turnTo(side) {
    this.side = side;
    const count = counted(this.readings, side);
    const ofHowMany = count < this.wanted && this.wanted > 1 ? ` of ${this.wanted}` : '';
    const label = this.replaces ? `${side} again` : `${side} ${count + 1}${ofHowMany}`;
    const what = this.step === 'heights' ? 'Ride height' : 'Reading';
    this.pad.ask(`Save ${label}`, `${what} ${label}`);
    this.pad.text = await this.app.store.draft(this.draftKey) ?? '';
    this.#lay();
  }

  /** Reads the job again and shows the columns anew; the pad stays as it is. */
  async refresh() {
    this.job = await loadJob(this.app.store, this.job.job);
    this.#lay();
  }

  #lay() {
    const table = this.#table();
    this.element.replaceWith(table);
    this.element = table;
  }

  #table() {
    return sidesTable({
      readings: this.readings,
      units: this.job.units,
      drivingSide: this.job.record.driving_side ?? 'left',
      flip: this.app.flip,
      now: this.side && isOpen(this.job) ? { side: this.side, text: this.pad.text } : null,
      onStrike: (entry, stands) => this.#strike(entry, stands),
      onSide: isOpen(this.job) ? (side) => this.app.redraw({ phase: 'read', side }) : null,
    });
  }

  #typed(text) {
    this.draft.note(this.draftKey, text);
    const live = this.element.querySelector('.reading.now .live');
    if (live) live.textContent = text || '\u2026';
  }

  /** @param {any} reading */
  #drafted({ value, unit, typed, read_to }) {
    const { job, round, step, side } = this;
    const body = { step, field: side, value, unit, read_to, ...this.extra() };
    if (this.replaces) body.replaces = this.replaces;
    return { kind: 'reading', vehicle: job.vehicle, job: job.job, round, typed, body };
  }

  async #keep({ confirmed, ...reading }) {
    const { job, round } = this;
    this.draft.cancel();
    await this.app.keep([this.#drafted(reading), ...confirming(job, round, confirmed)], {
      dropDraft: this.draftKey,
      foresee: (made) => this.foresee?.(job.with(made)),
    });
    // Whoever keeps a reading is done with choosing what is measured.
    await this.app.redraw({ phase: null, side: null, replaces: null, settings: false });
  }

  async #strike(entry, stands) {
    if (!isOpen(this.job)) return;
    if (!stands) await this.app.bringBack(this.job, entry);
    const { field: side } = entry.body;
    let again = false;
    const reason = stands &&
      await askReason(`${side} ${typedWords(entry, this.job.units)}`, () => {
        again = true;
      });
    if (again) return this.app.redraw({ phase: 'read', side, replaces: entry.id });
    if (reason) await this.app.strike(this.job, entry, reason);
    await this.app.redraw();
  }
}
