/**
 * What goes with the work itself: changes, what they overtook, what moved the axle, hold points.
 */

import {
  change_words as changeWords,
  compared_rounds as comparedRounds,
  fold,
  hold_points as holdPoints,
  moved,
  step_names as stepNames,
} from '../../reckon.js';
import { h, runs } from '../../dom.js';
import { isOpen, replacing } from './step.js';

/** The way to log a change, where the axle's place asks for one. */
export function changeButton(app, job, round) {
  const turns = job.findings(round).bar_change?.counted_turns;
  const advised = ['outside', 'too_close'].includes(job.findings(round).centering?.state) &&
    turns !== 0;
  return isOpen(job) && advised &&
    h(
      'button',
      { type: 'button', onclick: () => app.go(`#/job/${job.job}/${round}/change`) },
      'Log what was changed',
    );
}

/** What changes have overtaken in one step, or in all of them, as a band of sentences. */
export function staleNotice(job, round, step = null) {
  const overtaken = job.stale(round).filter((each) => step === null || each.step === step);
  return overtaken.length > 0 &&
    h(
      'div',
      { class: 'notice stale-notice', role: 'status' },
      overtaken.map((each) => h('p', {}, changeWords.stale_sentence(each))),
    );
}

/** What moved the axle since the last round that counts, in words; nothing where not known. */
export function movedBox(job, round) {
  const found = job.findings(round).moved;
  if (!moved.COMPARED.includes(found?.state)) return null;
  return h(
    'section',
    { class: `box moved ${found.state}` },
    h('h2', {}, `What moved it ${comparedRounds.since_words(job.sheet(round).before)}`),
    found.why.map((says) => h('p', {}, says)),
  );
}

/** Who passed a hold point over and why. */
export function passedWords({ passed }, names) {
  return `Passed over by ${names[passed.person] ?? 'the lead'}: ${passed.body.reason}`;
}

/** What a lead closed, by whom and why. */
function closedByWords(says, { person, body }, names) {
  return `${says} Closed by ${names[person] ?? 'the lead'}: ${body.reason}`;
}

/** What the jobs so far left open on each axle of a vehicle. */
export function leftOpen(vehicle) {
  return vehicle.openPoints().map(({ axle, job, points }) =>
    h(
      'details',
      { class: 'box hold-point open left-open' },
      h(
        'summary',
        {},
        h('span', {}, `Left open on the ${axle} axle`),
        h('span', {}, `${points.reduce((sum, { open }) => sum + open.length, 0)}`),
      ),
      points.map((point) => [
        h('h3', {}, point.title),
        h('ul', { class: 'rows' }, point.open.map((each) => openItem(job, point, each))),
      ]),
    )
  );
}

// What is open before welding is settled in the fit-up, the rest in the last round.
function openItem(job, point, { step, says, earlier }) {
  const place = step === 'job' ? '' : `/${step}`;
  const round = point.hold_point === 'final_welding' ? 'fit_up' : job.rounds.at(-1);
  return h(
    'li',
    {},
    h(
      'a',
      { class: 'row', href: `/app#/job/${job.job}/${round}${place}` },
      h('span', {}, says),
      earlier && h('span', { class: 'soft wide' }, 'left open by an earlier job'),
    ),
  );
}

// The fit-up has two ticks of its own, and no other place to set them.
function fitUpTicks(app, job) {
  const ticked = (field) => holdPoints.fit_up_tick(job.entries, field) === true;
  const tick = async (field, value) => {
    await app.keep([replacing(job, 'fit_up', 'tick', { field, value })]);
    await app.redraw();
  };
  return h(
    'div',
    { class: 'picks' },
    Object.entries(stepNames.FIT_UP_TICKS).map(([field, text]) =>
      h(
        'label',
        { class: 'tick' },
        h('input', {
          type: 'checkbox',
          name: field,
          checked: ticked(field),
          disabled: !isOpen(job),
          onchange: (event) => tick(field, event.target.checked),
        }),
        text,
      )
    ),
  );
}

function holdPoint(app, job, round, point, names) {
  const count = point.open.length;
  return h(
    'details',
    {
      class: `box hold-point ${point.state}`,
      open: point.state === 'open' && point.hold_point === 'final_welding',
    },
    h('summary', {}, h('span', {}, point.title), h('span', {}, point.shows)),
    point.hold_point === 'final_welding' && round === 'fit_up' && fitUpTicks(app, job),
    point.passed && h('p', {}, passedWords(point, names)),
    count > 0
      ? h('ul', { class: 'rows' }, point.open.map((each) => openItem(job, point, each)))
      : h('p', {}, 'Nothing is open here. That does not make it safe.'),
    point.closed.map(({ says, entry }) =>
      h('p', { class: 'soft' }, closedByWords(says, entry, names))
    ),
    point.not_judged.map((says) => h('p', { class: 'soft' }, says)),
  );
}

/** The hold points of a job, each with what is open and who passed it over. */
export function holdPointBoxes(app, job, round, names) {
  return job.holdPoints().map((point) => holdPoint(app, job, round, point, names));
}

/** The changes that a job logged, newest first, each with whether it stands. */
export function changesOf(job) {
  const standing = new Set(fold.standing(job.entries).map(({ id }) => id));
  return job.entries.filter(({ kind }) => kind === 'change').map((entry) => ({
    entry,
    stands: standing.has(entry.id),
  })).reverse();
}

/**
 * The way on to the next round once something was changed, or null: the axle is measured in a round
 * of its own, so that what was found stays as it was found.
 */
export function nextRoundButton(app, job, round) {
  const changed = changesOf(job).some(({ stands }) => stands);
  if (!changed || round === 'as_left' || round === 'recheck' || job.rounds.includes('as_left')) {
    return null;
  }
  return h('button', {
    type: 'button',
    class: 'main',
    onclick: () => app.go(`#/job/${job.job}/as_left/heights`),
  }, 'Start round: as left');
}

/** An answer in runs as the paragraph that stands first on a screen. */
export function answerOf(sentence) {
  return sentence.length > 0 && h('p', { class: 'answer', tabindex: '-1' }, runs(sentence));
}
