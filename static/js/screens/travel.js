/**
 * Through the travel: the linkage under the finger, its curves, and what moving a mount would do.
 */

import { draw as drawCurve } from '../figures/curve.js';
import { caption, draw as drawTravel } from '../figures/travel.js';
import { h } from '../dom.js';
import { longest } from '../store/contract.js';
import { isOpen, stepHead } from '../parts/measure/step.js';
import { loadJob } from '../model.js';
import {
  bump_steer as bumpSteer,
  drag_link as dragLink,
  fold,
  length_grammar as grammar,
  plan_rows as planRows,
  reasons,
  terms,
  track_bar as trackBar,
  what_if as whatIf,
} from '../reckon.js';

const LOWEST = -50;
const HIGHEST = 150;

/** One step of a slider in mm: a mark of the tape in use. */
const TICKS = { mm: 1, in: grammar.INCH / 16 };

function travelWords(travel, units) {
  return travel
    ? `${planRows.size_words(travel, units)} of ${travel > 0 ? 'bump' : 'droop'}`
    : 'At ride height';
}

function steerWords(value) {
  if (value === null || Math.abs(value) < 0.005) return 'the wheels stay straight';
  const side = value > 0 ? 'left' : 'right';
  return `the wheels steer ${Math.abs(value).toFixed(2)}\u00b0 to the ${side}`;
}

/** What cannot be shown yet, in the words of the arithmetic; null when all is there. */
function lacking(sheet) {
  const bar = sheet.track_bar ?? {};
  const short = [...trackBar.missing_of(bar), ...trackBar.out_of_reach(bar)];
  if (short.length) return reasons.sentences(short, sheet.units ?? 'mm');
  return bar.bump && bar.droop
    ? null
    : ['Enter bump and droop travel of the track bar to see it move.'];
}

class Linkage {
  constructor(app, job, round) {
    this.app = app;
    this.job = job;
    this.round = round;
    this.sheet = job.sheet(round);
    this.findings = job.findings(round);
    this.travel = 0;
    this.plan = {
      name: '',
      ...Object.fromEntries(Object.keys(terms.MOVES).map((move) => [move, 0])),
    };
    this.figure = h('div', {});
    this.says = h('p', { class: 'answer', role: 'status' });
    this.curves = h('div', { class: 'curves' });
    this.compared = h('div', { class: 'compared' });
    this.today = whatIf.plan_found(this.sheet.track_bar, this.link, {});
    this.reckonPlan();
  }

  get link() {
    return this.sheet.drag_link && this.findings.steer?.state === 'known'
      ? this.sheet.drag_link
      : null;
  }

  get isPlanned() {
    return Object.keys(terms.MOVES).some((move) => this.plan[move] !== 0);
  }

  /** Reckons the plan that the sliders stand at, and draws all of it. */
  reckonPlan() {
    this.then = this.isPlanned
      ? whatIf.plan_found(this.sheet.track_bar, this.link, this.plan)
      : null;
    const advised = this.findings.advice.state;
    const rows = this.then
      ? planRows.plan_rows(this.today, this.then, this.job.units, advised)
      : [];
    this.compared.replaceChildren(
      ...(rows.length
        ? [compareTable(rows)]
        : [h('p', { class: 'soft' }, 'Move a slider to compare a plan with today.')]),
    );
    this.moveTo(this.travel);
  }

  /** Shows the linkage at a travel in mm. */
  moveTo(travel) {
    this.travel = travel;
    const { flip } = this.app;
    const data = {
      sheet: this.sheet,
      findings: this.findings,
      rail_width: this.job.record.rail_width,
    };
    const shift = trackBar.shift_at(this.sheet.track_bar, travel);
    const steered = this.link &&
      bumpSteer.bump_steer(this.sheet.track_bar, dragLink.linkage(this.link), travel);
    const place = shift === null
      ? 'out of the bar\u2019s reach'
      : terms.toward(shift, this.job.units);
    const steers = this.link ? `, ${steerWords(steered)}` : '';
    const at = travelWords(travel, this.job.units);
    this.says.textContent = `${at}: the axle sits ${place}${steers}.`;
    this.figure.replaceChildren(drawTravel(data, travel, { flip, says: this.says.textContent }));
    this.#drawCurves(flip);
  }

  #drawCurves(flip) {
    const both = (key) =>
      [
        { points: this.today[key], kind: 'curve-now' },
        this.then && { points: this.then[key], kind: 'bar-then' },
      ].filter(Boolean);
    const box = (title, key, unit, says) =>
      h(
        'figure',
        { class: 'box' },
        h('h2', {}, title),
        drawCurve({ curves: both(key), unit, units: this.job.units, at: this.travel, says }, {
          flip,
        }),
      );
    this.curves.replaceChildren(
      box(
        'Sideways shift through the travel',
        'shift_curve',
        'mm',
        `Sideways shift, ${this.says.textContent}`,
      ),
      ...(this.link
        ? [
          box(
            'Bump steer through the travel',
            'curve',
            '\u00b0',
            `Bump steer, ${this.says.textContent}`,
          ),
        ]
        : []),
    );
  }
}

function compareTable(rows) {
  return h(
    'table',
    { class: 'compare' },
    h(
      'thead',
      {},
      h(
        'tr',
        {},
        h('th', { scope: 'col' }, 'What'),
        h('th', { scope: 'col' }, 'Today'),
        h('th', { scope: 'col' }, 'Plan'),
      ),
    ),
    h(
      'tbody',
      {},
      rows.map(({ name, today, then }) =>
        h('tr', {}, h('th', { scope: 'row' }, name), h('td', {}, today), h('td', {}, then))
      ),
    ),
  );
}

/**
 * A slider over lengths in mm that goes by the marks of the tape in use, and stops at both ends.
 */
function slider(label, units, { min, max, value, text, onInput }) {
  const tick = TICKS[units];
  const out = h('b', {});
  const say = (mm) => {
    out.textContent = text(mm, units);
    input.setAttribute('aria-valuetext', out.textContent);
  };
  const input = h('input', {
    type: 'range',
    min: Math.floor(min / tick),
    max: Math.ceil(max / tick),
    step: '1',
    'aria-label': label,
    oninput: () => {
      const mm = Math.max(min, Math.min(max, input.value * tick));
      say(mm);
      onInput(mm);
    },
  });
  input.value = Math.round(value / tick);
  say(value);
  return h('div', { class: 'slider' }, h('span', {}, label), out, input);
}

function capital(text) {
  return text[0].toUpperCase() + text.slice(1);
}

function planSliders(linkage) {
  const moves = Object.entries(terms.MOVES).filter(([move]) =>
    linkage.link || !['pitman_down', 'link_axle_end_up'].includes(move)
  );
  return moves.map(([move, name]) =>
    slider(capital(name), linkage.job.units, {
      min: LOWEST,
      max: HIGHEST,
      value: linkage.plan[move] ?? 0,
      text: planRows.set_words,
      onInput: (value) => {
        linkage.plan[move] = value;
        linkage.reckonPlan();
      },
    })
  );
}

function raises(linkage) {
  const { what_if: found, advice } = linkage.findings;
  if (advice.state === 'hold' || (found?.parallel_raise ?? null) === null) return null;
  const set = (value) => {
    linkage.plan.axle_end_up = Math.round(value * 10) / 10;
    linkage.app.redraw({ plan: { ...linkage.plan } });
  };
  return [
    h('p', { class: 'soft' }, found.why.join(' ')),
    h(
      'div',
      { class: 'row-buttons' },
      h(
        'button',
        { type: 'button', onclick: () => set(found.parallel_raise) },
        'Make bar and link parallel',
      ),
      found.least_steer_raise !== null &&
        h(
          'button',
          { type: 'button', onclick: () => set(found.least_steer_raise) },
          'Least bump steer',
        ),
    ),
  ];
}

function planForm(app, job, round, linkage) {
  const fault = h('p', { class: 'fault', role: 'alert' });
  const name = h('input', {
    name: 'name',
    maxlength: longest('plan', 'name'),
    autocomplete: 'off',
    value: linkage.plan.name,
    oninput: () => {
      linkage.plan.name = name.value;
    },
  });
  const submit = async (event) => {
    event.preventDefault();
    fault.textContent = name.value.trim()
      ? (linkage.isPlanned ? '' : 'Move a slider first: this plan changes nothing.')
      : 'Enter a name for the plan.';
    if (fault.textContent) return;
    await app.keep([{
      kind: 'plan',
      vehicle: job.vehicle,
      job: job.job,
      round,
      body: { ...linkage.plan, name: name.value.trim() },
    }]);
    await app.redraw({ plan: null });
  };
  return h(
    'form',
    { class: 'plan', onsubmit: submit },
    h('label', { class: 'field' }, 'Name of the plan', name, fault),
    h('button', { class: 'main' }, 'Save plan'),
  );
}

function keptPlans(app, job) {
  const kept = fold.of_kind(fold.standing(job.entries), 'plan');
  const look = (entry) =>
    h(
      'li',
      {},
      h(
        'button',
        { type: 'button', class: 'row', onclick: () => app.redraw({ plan: entry.body }) },
        h('b', {}, entry.body.name),
        h('span', { class: 'soft' }, 'show'),
      ),
    );
  return kept.length > 0 &&
    [h('h2', {}, 'Plans saved with this job'), h('ul', { class: 'rows' }, kept.map(look))];
}

/** The screen; `plan` is what the sliders begin at. */
export async function show(app, { id, round, plan = null }) {
  const job = await loadJob(app.store, id);
  const frame = { ...stepHead(app, job, round, 'travel'), refresh: async () => {} };
  const short = lacking(job.sheet(round));
  if (short) {
    return {
      ...frame,
      parts: [h('h2', {}, 'Through the travel'), short.map((says) => h('p', {}, says))],
    };
  }
  const linkage = new Linkage(app, job, round);
  if (plan) Object.assign(linkage.plan, plan);
  linkage.reckonPlan();
  const { bump, droop } = linkage.sheet.track_bar;
  return {
    ...frame,
    parts: [
      linkage.says,
      h('figure', { class: 'box' }, h('h2', {}, caption(app.flip)), linkage.figure),
      slider('Travel', job.units, {
        min: -droop,
        max: bump,
        value: 0,
        text: travelWords,
        onInput: (value) => linkage.moveTo(value),
      }),
      linkage.curves,
      h('h2', {}, 'What if a mount moved'),
      raises(linkage),
      planSliders(linkage),
      linkage.compared,
      isOpen(job) && planForm(app, job, round, linkage),
      keptPlans(app, job),
    ],
  };
}
