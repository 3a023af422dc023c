/** One joint of the play step: its readings, what is loose, its limits and its repair choices. */

import { dial, joint_answers as jointAnswers, joint_terms as asks } from '../../reckon.js';
import { askOf } from './asked.js';
import { cautionList } from '../answer/findings.js';
import { confirming, isOpen } from './step.js';
import { Draft } from './side_reader.js';
import { drawJoint } from '../../figures/measure_joint.js';
import { h } from '../../dom.js';
import { KeyPad } from './keypad.js';
import { likeBefore, replacingLike } from './same_entry.js';
import { limitsForm } from './limits.js';

export const STEP = 'play';
// One leads on to the next: together they say whether a hole is worn.
const SIZES = ['bolt', 'hole_long', 'hole_short'];
const UNITS = {
  along: [['mm', 'mm'], ['thou', '0.001 in']],
  size: [['mm', 'mm'], ['in', 'inches']],
};
const PLUS = { text: '+', puts: ' + ', name: 'Plus, then the other way', wide: true };
const STROKE = { text: '/', puts: '/', name: 'Fraction slash', wide: true };

/** What the arithmetic finds of a joint, or null. */
export function foundOf(job, round, joint) {
  return job.findings(round).play?.joints.find((each) => each.joint === joint) ?? null;
}

/** The standing reading of a field of a joint, or null. */
export function readingOf(job, round, joint, field) {
  return likeBefore(job, round, 'reading', { step: STEP, field, joint });
}

/** A reading as it stands on the screen; both ways together where there are two. */
export function shownReading(entry) {
  if (!entry) return h('span', { class: 'soft' }, 'not measured');
  const { value, unit, pair } = entry.body;
  return `${dial.show_dial(value, unit)}${pair ? ' both ways' : ''}`;
}

function pickOf(job, round, joint, field) {
  return likeBefore(job, round, 'pick', { step: STEP, field, value: { joint } })?.body.value ??
    null;
}

async function keepPick(app, job, round, field, value, asked = [], options = {}) {
  await app.keep([
    replacingLike(job, round, 'pick', { step: STEP, field, value }),
    ...asked.flatMap((each) => confirming(job, round, each)),
  ], options);
  await app.redraw();
}

function lastHow(job, round) {
  return job.entries.findLast(({ round: at, body }) =>
    at === round && body.step === STEP && body.how
  )?.body.how ?? null;
}

/** How joints are rocked: asked at the first one, and what was chosen stands for those after it. */
class How {
  constructor(chosen, onChoice) {
    this.chosen = chosen;
    this.shown = h('span', {}, chosen ?? 'not chosen yet');
    const option = (each) =>
      h(
        'label',
        { class: 'pick' },
        h('input', {
          type: 'radio',
          name: 'how',
          value: each,
          checked: each === chosen,
          onchange: () => {
            this.chosen = each;
            this.shown.textContent = each;
            onChoice();
          },
        }),
        each,
      );
    this.element = h(
      'details',
      { class: 'box settings', open: !chosen },
      h('summary', {}, h('span', {}, 'How: '), this.shown),
      h(
        'div',
        { class: 'settings-body' },
        h(
          'fieldset',
          {},
          h('legend', {}, 'How it is rocked'),
          h('div', { class: 'picks' }, asks.HOWS.map(option)),
        ),
      ),
    );
  }

  /** What to say where nobody has chosen, with the choices brought into view; else null. */
  asked() {
    if (this.chosen) return null;
    this.element.open = true;
    this.element.scrollIntoView({ block: 'nearest' });
    return { says: 'Choose how it is rocked.', never: true };
  }
}

function drafted(job, round, joint, field, how, found, typed) {
  const { value, unit, read_to, pair } = found;
  const body = {
    step: STEP,
    field,
    joint: joint.joint,
    of: joint.of,
    value,
    unit,
    read_to,
    ...(field === 'along' && { how, pair }),
  };
  return replacingLike(job, round, 'reading', body, typed);
}

/** The size that follows a size of bolt and hole, where it was not measured; else null. */
function nextSize(job, round, joint, field) {
  const at = SIZES.indexOf(field);
  const rest = at < 0 ? [] : SIZES.slice(at + 1);
  return rest.find((each) => !readingOf(job, round, joint.joint, each)) ?? null;
}

async function padFor(app, job, round, joint, field, how) {
  const key = `${job.job}|${round}|${STEP}|${joint.joint}|${field}`;
  const draft = new Draft(app.store);
  const kind = field === 'along' ? 'along' : 'size';
  const name = asks.PLAY_NAMES[field];
  const draftOf = (found, typed) => drafted(job, round, joint, field, how?.chosen, found, typed);
  const pad = new KeyPad({
    label: name,
    units: UNITS[kind],
    unit: app.gauge?.[kind] ?? UNITS[kind][job.units === 'in' ? 1 : 0][0],
    read: kind === 'along' ? dial.parse_along : dial.parse_dial,
    said: (found) =>
      `${dial.show_dial(found.value, found.unit)}${found.pair ? ', both ways together' : ''}`,
    more: [kind === 'along' ? PLUS : STROKE],
    onText: (text) => draft.note(key, text),
    onUnit: (unit) => {
      app.gauge = { ...app.gauge, [kind]: unit };
    },
    keeps: [[
      kind === 'along' ? 'Save movement' : `Save ${name.toLowerCase()}`,
      async (found, typed, confirmed) => {
        draft.cancel();
        await app.keep([draftOf(found, typed), ...confirming(job, round, confirmed)], {
          dropDraft: key,
        });
        await app.redraw({ field: nextSize(job, round, joint, field), phase: 'joint' });
      },
    ]],
    askBack: (found, typed) =>
      how?.asked() ?? askOf(job, round, `play[].${field}`, found.value, [draftOf(found, typed)]),
  });
  pad.text = await app.store.draft(key) ?? '';
  return pad;
}

/** The screen on which one reading of a joint is entered. */
export async function entering(app, job, round, joint, field) {
  const how = field === 'along' ? new How(lastHow(job, round), () => pad.say(null)) : null;
  const pad = await padFor(app, job, round, joint, field, how);
  const back = h('button', {
    type: 'button',
    'data-field': field,
    onclick: () => app.redraw({ field: null, phase: 'joint' }),
  }, field === 'along' ? 'Bolt, hole and limits' : 'Cancel');
  return {
    parts: [
      h('h2', {}, joint.title),
      how?.element,
      h('p', { class: 'ask' }, asks.PLAY_ASKS[field]),
      drawJoint(field),
      back,
      pad.element,
    ],
    measuring: true,
    focus: pad.input,
    refresh: async () => {},
  };
}

function fieldRow(app, job, round, joint, field) {
  const entry = readingOf(job, round, joint.joint, field);
  return h(
    'li',
    {},
    h(
      'button',
      {
        type: 'button',
        class: 'row',
        disabled: !isOpen(job),
        onclick: () => app.redraw({ field, phase: null }),
      },
      h('b', {}, asks.PLAY_NAMES[field]),
      h('span', {}, shownReading(entry)),
      entry?.body.how && h('span', { class: 'soft wide' }, entry.body.how),
    ),
  );
}

function loosePicks(app, job, round, joint) {
  const chosen = pickOf(job, round, joint.joint, 'loose')?.what;
  const pick = (what) => keepPick(app, job, round, 'loose', { joint: joint.joint, what });
  const option = (value, text) =>
    h(
      'label',
      { class: 'pick' },
      h('input', {
        type: 'radio',
        name: 'loose',
        value: value ?? '',
        checked: value === chosen,
        disabled: !isOpen(job),
        onchange: () => pick(value),
      }),
      text,
    );
  return h(
    'details',
    { class: 'box' },
    h('summary', {}, h('span', {}, 'Is anything loose? '), chosen && asks.LOOSE_NAMES[chosen]),
    h(
      'fieldset',
      { class: 'settings-body' },
      h('legend', { class: 'hidden-words' }, 'What is loose'),
      h(
        'div',
        { class: 'picks' },
        option(null, 'Nothing looks loose'),
        Object.entries(asks.LOOSE_NAMES).map(([value, text]) => option(value, text)),
      ),
    ),
  );
}

function saysBox(found) {
  if (!found) return null;
  return h(
    'ul',
    { class: 'says' },
    found.why.map((says) => h('li', {}, jointAnswers.capital(says))),
  );
}

function repairBox(found) {
  if (!found?.repairs.length) return null;
  return h(
    'section',
    { class: 'box' },
    h('h2', {}, found.repairs.length > 1 ? 'Repair choices, for comparison' : 'Repair'),
    h('ul', { class: 'why' }, found.repairs.map(({ says }) => h('li', {}, says))),
  );
}

/** The screen of one joint with everything that is known of it, and the way to the `next` one. */
export async function oneJoint(app, job, round, joint, next) {
  const found = foundOf(job, round, joint.joint);
  const limits = pickOf(job, round, joint.joint, 'limit') ??
    job.record.joint_limits?.[job.axle]?.[joint.joint] ?? null;
  const fields = Object.keys(asks.PLAY_NAMES).filter((field) =>
    asks.fields_of(joint.of).includes(field) || readingOf(job, round, joint.joint, field)
  );
  const key = `${job.job}|${round}|${STEP}|${joint.joint}|limit`;
  const limiting = await limitsForm(
    app,
    key,
    limits,
    job.units,
    {
      ask: (field, mm) => askOf(job, round, `play[].${field}`, mm),
      onKeep: (value, asked) =>
        keepPick(app, job, round, 'limit', { joint: joint.joint, ...value }, asked, {
          dropDraft: key,
        }),
    },
  );
  return {
    parts: [
      h('h2', {}, joint.title),
      saysBox(found),
      h(
        'ul',
        { class: 'rows' },
        fields.map((field) => fieldRow(app, job, round, joint, field)),
      ),
      repairBox(found),
      loosePicks(app, job, round, joint),
      isOpen(job) && limiting,
      cautionList(asks.CAUTIONS.play.slice(1, 2)),
      h(
        'div',
        { class: 'bottom row-buttons' },
        h('button', {
          type: 'button',
          class: next ? null : 'main',
          onclick: () => app.redraw({ joint: null, field: null, phase: null }),
        }, 'All joints'),
        next && h('button', {
          type: 'button',
          class: 'main',
          onclick: () => app.redraw({ joint: next.joint, field: null, phase: null }),
        }, `Next: ${next.title}`),
      ),
    ],
    busy: () => limiting.open,
  };
}
