/** Change: what was done, what that reopens, and what is on the log already. */

import {
  adjuster as turning,
  adjuster_words as adjusterWords,
  change_words as changeWords,
  changes,
  lengths,
  stale,
  steps,
  terms,
  turns as typedTurns,
} from '../reckon.js';
import { askOf, TypedField } from '../parts/measure/asked.js';
import { askReason } from '../parts/measure/readings.js';
import { cautionList } from '../parts/answer/findings.js';
import { changesOf, nextRoundButton, staleNotice } from '../parts/measure/changes.js';
import { confirming, isOpen, nextButton, stepScreen } from '../parts/measure/step.js';
import { h } from '../dom.js';
import { longest } from '../store/contract.js';
import { loadJob } from '../model.js';
import { withDraft } from '../parts/measure/form_draft.js';

const STEP = 'change';
const PARTS = {
  bracket_moved: ['frame-end bracket', 'axle-end bracket'],
  pitman_changed: ['longer arm', 'shorter arm', 'dropped arm'],
  hole_repaired: ['frame-end bracket', 'axle-end bracket'],
  part_replaced: ['bushing', 'bolt', 'rod end', 'tie rod end', 'shock'],
  springs_changed: ['springs', 'spacer over the spring', 'leaf', 'torsion bar', 'air bag'],
  wheels_changed: ['tires', 'wheels', 'wheel spacers'],
  arm_moved: ['steering arm', 'tie rod', 'drag link end on the knuckle'],
  part_removed: ['bump stop', 'shock', 'sway bar link'],
};
const WAYS = [['1', 'out, longer'], ['-1', 'in, shorter']];
// The part whose adjuster a turn goes by, and the finding that advises the turns.
const TURNED = { bar_turned: ['track_bar', 'bar_change'], link_turned: ['drag_link', 'wheel'] };

function whatPicks(app, chosen) {
  return h(
    'fieldset',
    {},
    h('legend', {}, 'What was done'),
    h(
      'div',
      { class: 'picks' },
      Object.entries(changeWords.CHANGE_NAMES).map(([value, text]) =>
        h(
          'label',
          { class: 'pick' },
          h('input', {
            type: 'radio',
            name: 'what',
            value,
            checked: value === chosen,
            onchange: () => app.redraw({ what: value }),
          }),
          text,
        )
      ),
    ),
  );
}

/** Which way something went: nothing is chosen until somebody chooses. */
class Way {
  constructor(name, legend, options, onPick = () => {}) {
    this.fault = h('p', { class: 'fault', role: 'alert' });
    const picked = () => {
      this.fault.textContent = '';
      onPick();
    };
    this.inputs = options.map(([value]) =>
      h('input', { type: 'radio', name, value, onchange: picked })
    );
    this.element = h(
      'fieldset',
      {},
      h('legend', {}, legend),
      h(
        'div',
        { class: 'picks abreast' },
        options.map(([, text], index) => h('label', { class: 'pick' }, this.inputs[index], text)),
      ),
      this.fault,
    );
  }

  /** The value that is chosen, or null. */
  get chosen() {
    return this.inputs.find(({ checked }) => checked)?.value ?? null;
  }

  choose(value) {
    for (const input of this.inputs) input.checked = input.value === value;
    this.fault.textContent = '';
  }

  /** True when one is chosen; else says so here. */
  isChosen() {
    if (this.chosen) return true;
    this.fault.textContent = 'Choose which way.';
    this.inputs[0].focus();
    return false;
  }
}

/** Turns of an adjuster; the turns that the findings advise take one touch, but are not preset. */
class Turns {
  constructor(job, round, what) {
    const [part, finding] = TURNED[what];
    this.job = job;
    this.adjuster = job.sheet(round)[part]?.adjuster ?? null;
    this.field = new TypedField({
      label: 'Turns',
      read: typedTurns.parse_turns,
      ask: ({ value }) => askOf(job, round, 'change.turns', value),
      more: { name: 'turns', oninput: () => this.#show() },
    });
    this.way = new Way('way', 'Which way', WAYS, () => this.#show());
    this.says = h('p', { class: 'ask', role: 'status' });
    this.parts = [
      this.#asAdvised(this.#advised(job, round, finding)),
      this.field.element,
      this.#nudges(),
      this.way.element,
      this.says,
    ];
    this.#show();
  }

  #advised(job, round, finding) {
    const found = job.findings(round);
    const { state } = found.advice;
    if (state === 'hold') return 0;
    const turns = state === 'adjust' ? found[finding]?.counted_turns : 0;
    return (finding === 'wheel' ? found.steering?.counted_turns : null) ?? turns ?? 0;
  }

  #asAdvised(turns) {
    const put = () => {
      this.field.input.value = terms.turns_words(turns).replace(/ turns?$/, '');
      this.way.choose(String(Math.sign(turns)));
      this.#show();
    };
    const words = () => `${terms.turns_words(turns)} ${turns > 0 ? 'out' : 'in'}, as advised`;
    return turns !== 0 && h('button', { type: 'button', onclick: put }, words());
  }

  #nudges() {
    const step = this.adjuster?.step || 0.25;
    const by = (size) => {
      const at = typedTurns.parse_turns(this.field.input.value);
      const near = turning.counted_turns((at.ok ? at.value : 0) + size, this.adjuster?.step ?? 0);
      const turns = Math.max(step, near);
      this.field.input.value = terms.turns_words(turns).replace(/ turns?$/, '');
      this.#show();
    };
    const words = terms.turns_words(step);
    return h(
      'div',
      { class: 'row-buttons' },
      h('button', { type: 'button', onclick: () => by(-step) }, `${words} less`),
      h('button', { type: 'button', onclick: () => by(step) }, `${words} more`),
    );
  }

  get turns() {
    const found = typedTurns.parse_turns(this.field.input.value);
    return found.ok && this.way.chosen ? found.value * Number(this.way.chosen) : null;
  }

  get longer() {
    return this.turns === null ? null : changes.length_of_turns(this.turns, this.adjuster);
  }

  #show() {
    const longer = this.longer;
    const way = longer > 0 ? 'longer' : 'shorter';
    const past = longer !== null && turning.past_thread(this.adjuster, longer);
    this.says.textContent = this.turns === null
      ? ''
      : longer === null
      ? 'The thread is not known, so the new length is not known either. Enter the adjuster, or ' +
        'measure the length again.'
      : `That makes it ${lengths.show_amount(Math.abs(longer), this.job.units)} ${way}.` +
        (past ? ` ${adjusterWords.PAST_THREAD}` : '');
  }

  /** {turns, length_change}, or null with the fault shown. */
  read() {
    if (!this.field.take()) return null;
    return this.way.isChosen() ? { turns: this.turns, length_change: this.longer } : null;
  }
}

/** A length with a way that it goes: longer or shorter, or where a bracket went; may stay empty. */
class Amount {
  constructor(job, round, { label, name, legend, ways, make }) {
    this.make = make;
    this.field = new TypedField({
      label,
      read: (text) => lengths.parse_length(text, job.units),
      ask: ({ value }) => askOf(job, round, `change.${name}`, value),
      empty: true,
      more: { name },
    });
    this.way = new Way(`${name}-way`, legend, ways);
    this.parts = [this.field.element, this.way.element];
  }

  read() {
    const found = this.field.take();
    if (!found) return found === null ? {} : null;
    return this.way.isChosen() ? this.make(found.value, this.way.chosen) : null;
  }
}

/** The part that was worked on, from the usual ones or in own words. */
class PartNamed {
  constructor(what) {
    this.field = new TypedField({
      label: 'Which part',
      read: (text) => (text ? { ok: true } : { ok: false, says: 'Say which part it was.' }),
      more: { name: 'part', maxlength: longest('change', 'part') },
    });
    const put = (name) => {
      this.field.input.value = name;
    };
    this.parts = [
      this.field.element,
      h(
        'div',
        { class: 'quick' },
        PARTS[what].map((name) => h('button', { type: 'button', onclick: () => put(name) }, name)),
      ),
    ];
  }

  read() {
    return this.field.take() ? { part: this.field.text } : null;
  }
}

const ASKED = {
  turns: (job, round, what) => new Turns(job, round, what),
  longer: (job, round) =>
    new Amount(job, round, {
      label: 'How much longer or shorter than the old one',
      name: 'length_change',
      legend: 'The bar is now',
      ways: [['1', 'longer'], ['-1', 'shorter']],
      make: (mm, sign) => ({ length_change: mm * Number(sign) }),
    }),
  moved: (job, round) =>
    new Amount(job, round, {
      label: 'How far it was moved',
      name: 'moved',
      legend: 'Moved',
      ways: changes.WAYS.map((way) => [way, way]),
      make: (mm, toward) => ({ moved: mm, toward }),
    }),
  part: (_job, _round, what) => new PartNamed(what),
};

async function form(app, job, round, what) {
  const key = `${job.job}|${round}|${STEP}|${what}`;
  const asked = changes.CHANGE_ASKS[what].map((name) => ASKED[name](job, round, what));
  const maxlength = longest('change', 'text');
  const text = h('textarea', { name: 'text', rows: '2', maxlength });
  const submit = async (event) => {
    event.preventDefault();
    const said = asked.map((each) => each.read());
    if (said.includes(null)) return;
    const body = Object.assign(
      { what },
      ...said,
      text.value.trim() ? { text: text.value.trim() } : {},
    );
    await app.keep([{
      kind: 'change',
      vehicle: job.vehicle,
      job: job.job,
      round,
      typed: body.turns ? asked[0].field.input.value.trim() : null,
      body,
    }, ...asked.flatMap(({ field }) => confirming(job, round, field.confirmed))], {
      dropDraft: key,
    });
    await app.redraw({ what: null, phase: 'logged' });
  };
  const typed = h(
    'form',
    { class: 'change-form', onsubmit: submit },
    h('h2', {}, changeWords.CHANGE_NAMES[what]),
    asked.map((each) => each.parts),
    h('label', { class: 'field' }, 'Details (optional)', text),
    h('p', { class: 'ask' }, changeWords.reopened_sentence(stale.reopened_findings(what))),
    h(
      'div',
      { class: 'bottom row-buttons' },
      h(
        'button',
        { type: 'button', onclick: () => app.redraw({ what: null, phase: 'pick' }) },
        'Something else',
      ),
      h('button', { class: 'main' }, 'Log the change'),
    ),
  );
  return withDraft(app, key, typed);
}

function logged(app, job) {
  const found = changesOf(job);
  const strike = async ({ entry, stands }, words) => {
    if (!stands) return app.bringBack(job, entry);
    const reason = await askReason(words);
    return reason && app.strike(job, entry, reason);
  };
  const item = (each) => {
    const words = changeWords.change_words(each.entry.body, job.units);
    return h(
      'li',
      {},
      h('span', { class: each.stands ? null : 'struck-out' }, words),
      isOpen(job)
        ? h('button', {
          type: 'button',
          'aria-label': `${each.stands ? 'Strike' : 'Undo strike'}: ${words}`,
          onclick: () => strike(each, words),
        }, each.stands ? 'Strike' : 'Undo strike')
        : h('span', {}),
      h('span', { class: 'soft' }, terms.ROUND_WORDS[each.entry.round] ?? ''),
    );
  };
  return found.length > 0 &&
    h(
      'section',
      { class: 'box' },
      h('h2', {}, 'Changed in this job'),
      h('ol', { class: 'log' }, found.map(item)),
    );
}

function overview(app, job, round) {
  return {
    parts: [
      staleNotice(job, round),
      logged(app, job),
      cautionList(steps.CAUTIONS[STEP]),
      h(
        'div',
        { class: 'bottom row-buttons' },
        isOpen(job) &&
          h(
            'button',
            { type: 'button', onclick: () => app.redraw({ phase: 'pick' }) },
            'Log another change',
          ),
        isOpen(job) && (nextRoundButton(app, job, round) ?? nextButton(app, job, round, STEP)),
      ),
    ],
  };
}

function picking(app, job, round, what) {
  return {
    parts: [
      cautionList(steps.CAUTIONS[STEP]),
      whatPicks(app, what),
      h('div', { class: 'bottom row-buttons' }, nextButton(app, job, round, STEP, false)),
    ],
  };
}

/**
 * The screen; `what` is the change being logged, `phase` pick or logged, following the log unless
 * set.
 */
export async function show(app, { id, round, what = null, phase = null }) {
  const job = await loadJob(app.store, id);
  const picks = (phase ?? (changesOf(job).length ? 'logged' : 'pick')) === 'pick';
  const view = !isOpen(job) || (!what && !picks)
    ? overview(app, job, round)
    : what
    ? { parts: [await form(app, job, round, what)], refresh: async () => {} }
    : picking(app, job, round, what);
  return stepScreen(app, job, round, STEP, view);
}
