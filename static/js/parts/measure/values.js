/** Values that stand once in a round: where each comes from, their rows, and how one is entered. */

import { adjusterForm } from './adjuster.js';
import { askOf } from './asked.js';
import { Draft } from './side_reader.js';
import { h } from '../../dom.js';
import { loadJob } from '../../model.js';
import { confirming, isOpen, placesOf, replacing, standingEntry, stepScreen } from './step.js';
import {
  adjuster_words as adjusterWords,
  change_words as changeWords,
  fold,
  lengths,
  links_of_round as linksOfRound,
} from '../../reckon.js';
import { tapeFor, TapePad } from './tape_pad.js';
import { typedWords } from './readings.js';

const CARRIED = 'carried over';

/** Where a sheet has a value of a step: toe, wheelbase and steering are parts of their own. */
function pathOf(step, field) {
  if (field === 'wheel_deg') return 'steering.wheel_deg';
  const [, part, name] = /^(toe|wheelbase)_(.+)$/.exec(field) ?? [null, step, field];
  return `${part}.${name}`;
}

/**
 * The values of one step in a round. `names` and `asks` are by field, `picks` the fields that are
 * chosen and not read; `valueOf(sheet, field)` finds a value; `words(field, value)` may write it.
 * `walks` are the fields that lead on to one another as they are kept, in lists of their own.
 */
export class Values {
  /**
   * @param {any} app
   * @param {any} job
   * @param {string} round
   * @param {{step: string, names: Record<string, string>, asks: Record<string, string>,
   *   picks: string[], walks: string[][], valueOf: (sheet: any, field: string) => any,
   *   words?: (field: string, value: any, entry: any) => any}} options
   */
  constructor(app, job, round, { step, names, asks, picks, walks, valueOf, words = () => null }) {
    this.app = app;
    this.job = job;
    this.round = round;
    this.step = step;
    this.names = names;
    this.asks = asks;
    this.picks = picks;
    this.walks = walks;
    this.words = words;
    this.value = (field) => valueOf(job.sheet(round), field) ?? null;
  }

  /**
   * Where a value comes from: measured here, confirmed, or carried over; with its entry if here.
   */
  origin(field) {
    const here = standingEntry(
      this.job,
      this.round,
      this.picks.includes(field) ? 'pick' : 'reading',
      field,
      this.step,
    );
    if (here) return { words: here.state === 'kept' ? 'this phone' : 'measured', entry: here };
    if (this.value(field) === null) return { words: '' };
    const confirmed = standingEntry(this.job, this.round, 'pick', 'carried', this.step);
    if (confirmed) return { words: 'confirmed' };
    const waits = this.job.record.unaccepted?.[this.job.axle] !== undefined;
    return { words: waits ? 'carried over, not accepted yet' : CARRIED };
  }

  shown(field) {
    const value = this.value(field);
    if (value === null) return 'not known';
    const { entry } = this.origin(field);
    return this.words(field, value, entry) ?? this.#plainly(field, value, entry);
  }

  #plainly(field, value, entry) {
    if (field === 'adjuster') return adjusterWords.adjuster_words(value, this.job.units);
    if (typeof value === 'string') return value;
    const by = field === 'length' ? this.#changedBy() : 0;
    const read = entry?.kind === 'reading'
      ? typedWords(entry, this.job.units)
      : lengths.show_length(Math.abs(value - by), this.job.units);
    return changeWords.length_then_changed(read, by, this.job.units);
  }

  // What was read stays as it was read; the sums go on from it by the changes that were logged.
  #changedBy() {
    const { job, round, step } = this;
    const filed = job.record[`${step}s`]?.[job.axle] ?? {};
    return linksOfRound.changed_by(fold.standing(job.entries), round, filed, step);
  }

  row(field) {
    return h(
      'li',
      {},
      h(
        'button',
        {
          type: 'button',
          class: 'row',
          disabled: !isOpen(this.job),
          onclick: () => this.app.redraw({ field }),
        },
        h('b', {}, this.names[field]),
        h('span', {}, this.shown(field)),
        h('span', { class: 'soft wide' }, this.origin(field).words),
      ),
    );
  }

  /** The rows of these fields, each a way to enter its value. */
  rows(fields) {
    return h('ul', { class: 'rows' }, fields.map((field) => this.row(field)));
  }

  /** The button that confirms what was carried over, where anything was. */
  carriedButton(fields) {
    const carried = fields.some((field) => this.origin(field).words.startsWith(CARRIED));
    const confirm = async () => {
      await this.app.keep([
        replacing(this.job, this.round, 'pick', { step: this.step, field: 'carried', value: true }),
      ]);
      await this.app.redraw();
    };
    return carried && isOpen(this.job) &&
      h('button', { type: 'button', onclick: confirm }, 'Checked: values on file are still right');
  }

  #picked(field, value, typed) {
    return replacing(this.job, this.round, 'pick', { step: this.step, field, value }, typed);
  }

  /** What is to be asked about a choice that would be kept. */
  askOf(field, value) {
    const { job, round, step } = this;
    return askOf(job, round, pathOf(step, field), value, [this.#picked(field, value, null)]);
  }

  /** The field to go on with after one: the next of its walk without a value, or null. */
  nextAfter(field) {
    const walk = this.walks.find((each) => each.includes(field)) ?? [];
    return walk.slice(walk.indexOf(field) + 1).find((each) => this.value(each) === null) ?? null;
  }

  /** Keeps a choice, with the questions that it answered, and goes on to the next field. */
  async keepPick(field, value, typed = null, ...confirmed) {
    await this.app.keep([
      this.#picked(field, value, typed),
      ...confirmed.flatMap((each) => confirming(this.job, this.round, each)),
    ]);
    await this.app.redraw({ field: this.nextAfter(field) });
  }

  /** Choices side by side; picking one keeps it. */
  choices(field, legend, options) {
    const chosen = this.value(field);
    return h(
      'fieldset',
      {},
      h('legend', {}, legend),
      h(
        'div',
        { class: 'picks abreast' },
        options.map((option) =>
          h(
            'label',
            { class: 'pick' },
            h('input', {
              type: 'radio',
              name: field,
              value: option,
              checked: option === chosen,
              onchange: () => this.keepPick(field, option),
            }),
            option,
          )
        ),
      ),
    );
  }

  /** The form of the adjuster. */
  adjuster() {
    const { job, round, step } = this;
    return adjusterForm(this.value('adjuster'), {
      unit: job.units,
      askOf: (field, mm) => askOf(job, round, `${step}.adjuster.${field}`, mm),
      onKeep: (value, confirmed = []) => this.keepPick('adjuster', value, null, ...confirmed),
    });
  }

  /** The buttons that leave a value as it is: for all values, or for the next one. */
  leaveButtons(field) {
    const next = this.nextAfter(field);
    const button = (to, words) =>
      h('button', { type: 'button', onclick: () => this.app.redraw({ field: to }) }, words);
    return h(
      'div',
      { class: 'row-buttons', 'data-field': field },
      button(null, 'Cancel'),
      next && button(next, 'Skip'),
    );
  }

  /**
   * The pad for a length; `signed(mm)` gives the value its sign where it has one, and
   * `lacks(mm)` says what has to be chosen first, or null.
   */
  async pad(field, signed = (mm) => mm, lacks = (_mm) => /** @type {any} */ (null)) {
    const { app, job, round, step } = this;
    const key = `${job.job}|${round}|${step}|${field}`;
    const draft = new Draft(app.store);
    const drafted = ({ value, unit, typed, read_to }) => {
      const body = { step, field, value: signed(value), unit, read_to };
      return replacing(job, round, 'reading', body, typed);
    };
    const pad = new TapePad({
      tape: app.tape ?? tapeFor(job.units, job.record.read_to),
      onText: (text) => draft.note(key, text),
      onTape: (name) => {
        app.tape = name;
      },
      askBack: (reading) =>
        lacks(reading.value) ??
          askOf(job, round, pathOf(step, field), signed(reading.value), [drafted(reading)]),
      onKeep: async ({ confirmed, ...reading }) => {
        draft.cancel();
        await app.keep([drafted(reading), ...confirming(job, round, confirmed)], {
          dropDraft: key,
        });
        await app.redraw({ field: this.nextAfter(field) });
      },
    });
    pad.ask(`Save ${this.names[field].toLowerCase()}`, this.names[field]);
    pad.text = await app.store.draft(key) ?? '';
    return pad;
  }
}

/**
 * The screen of a step of values: the pad of `field` where one is being entered, else all of them.
 * A step of which nothing is known begins with its first field.
 *
 * `views` has `valuesOf(app, job, round)`, and what makes the two views of the Values it gives.
 */
export async function valuesScreen(app, { id, round, field }, step, views) {
  const { local } = app;
  const job = await loadJob(app.store, id);
  const values = views.valuesOf(app, job, round);
  const begins = field === undefined &&
    placesOf(job, round).find((place) => place.step === step).state === 'empty';
  const entered = begins ? values.walks[0][0] : field;
  // Its value is kept before the walk goes on: what is drawn between the two is still this field.
  if (begins) local.field = entered;
  const view = entered && isOpen(job)
    ? await views.entering(app, values, entered)
    : views.overview(app, job, round, values);
  return stepScreen(app, job, round, step, view);
}
