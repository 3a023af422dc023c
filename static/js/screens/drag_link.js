/** Drag link: its ends, arm and adjuster, toe and wheelbase, and where the steering wheel sits. */

import {
  angles,
  link_answer as linkAnswer,
  link_steps as linkSteps,
  links_of_round as linksOfRound,
  ratios,
  step_names as stepNames,
  steps,
  terms,
} from '../reckon.js';
import { TypedField } from '../parts/measure/asked.js';
import { answerOf, staleNotice } from '../parts/measure/changes.js';
import { cautionList, numbersBox } from '../parts/answer/findings.js';
import { nextButton, travelButton } from '../parts/measure/step.js';
import { draw as drawMeasure } from '../figures/measure.js';
import { draw as drawSteeringWheel } from '../figures/steering_wheel.js';
import { h } from '../dom.js';
import { Values, valuesScreen } from '../parts/measure/values.js';

const STEP = 'drag_link';
const LINK = ['frame_end', ...linksOfRound.LINK_READINGS, 'arm_points', 'adjuster', 'ratio'];
const TOE = Object.keys(stepNames.TOE_NAMES);
const BASE = Object.keys(stepNames.BASE_NAMES);
const CLOCK = ['10', '11', '12', '1', '2'];

function valueOf(sheet, field) {
  const [, part, name] = /^(toe|wheelbase)_(.+)$/.exec(field) ?? [];
  if (part) return sheet[part]?.[name];
  return field === 'wheel_deg'
    ? sheet.steering?.wheel_deg ?? sheet.steering?.after_bumps
    : sheet.drag_link?.[field];
}

function wordsOf(unit) {
  return (field, value, entry) => {
    if (field === 'ratio') return `${value} : 1`;
    if (field === 'wheel_deg') return terms.wheel_position(value);
    if (field === 'fore_aft') return linkSteps.lead_words(value, unit, entry?.typed ?? null);
    return null;
  };
}

function valuesOf(app, job, round) {
  return new Values(app, job, round, {
    step: STEP,
    names: stepNames.LINK_STEP_NAMES,
    asks: linkSteps.READING_ASKS,
    picks: [...linksOfRound.LINK_PICKS, 'wheel_deg'],
    walks: [LINK, TOE, BASE],
    valueOf,
    words: wordsOf(job.units),
  });
}

// A form with one text: what it reads as is shown before it is kept, or why it cannot be.
/**
 * @param {{label: string, hint: string, start: string, mode: string, read: (text: string) => any,
 *   ask: (found: any) => any, onKeep: (found: any, typed: string) => any,
 *   onRead?: (found: any) => void, quick?: any[]}} options
 */
function oneText({ label, hint, start, mode, read, ask, onKeep, onRead = () => {}, quick = [] }) {
  const keep = async (event) => {
    event?.preventDefault();
    const found = field.take();
    if (found) await onKeep(found, field.text);
  };
  const field = new TypedField({
    label,
    read,
    ask,
    again: keep,
    shown: start,
    more: { inputmode: mode, oninput: () => onRead(read(field.text)) },
  });
  const put = (text) => {
    field.input.value = text;
    onRead(read(text));
  };
  return {
    input: field.input,
    form: h(
      'form',
      { class: 'one-text', onsubmit: keep },
      field.element,
      hint && h('p', { class: 'ask' }, hint),
      quick.length > 0 &&
        h(
          'div',
          { class: 'quick' },
          quick.map((text) => h('button', { type: 'button', onclick: () => put(text) }, text)),
        ),
      h('button', { class: 'main' }, `Save ${label.toLowerCase()}`),
    ),
  };
}

function rimOf(wheel) {
  return drawSteeringWheel(typeof wheel === 'number' ? wheel : null);
}

function wheelForm(values) {
  const picture = h('div', { 'aria-hidden': 'true' }, rimOf(values.value('wheel_deg')));
  const { form, input } = oneText({
    label: 'Steering wheel',
    start: '',
    mode: 'text',
    read: angles.parse_wheel,
    quick: CLOCK.map((hour) => `${hour} o\u2019clock`),
    hint: 'Wheels straight ahead, vehicle rolled on a level floor. Such as 10 deg left, 1 ' +
      'o\u2019clock or 1/4 turn right.',
    onRead: (found) => picture.replaceChildren(drawSteeringWheel(found.ok ? found.value : null)),
    // A wheel that was seen in several places has no one place to keep.
    ask: ({ positions }) =>
      positions.map((value) => values.askOf('wheel_deg', value)).find((each) => each) ?? null,
    onKeep: ({ value, positions, confirmed }, typed) =>
      values.keepPick('wheel_deg', value ?? positions, typed, confirmed),
  });
  return {
    parts: [
      h('h2', {}, 'Where the steering wheel sits'),
      picture,
      form,
      values.leaveButtons('wheel_deg'),
    ],
    focus: input,
    refresh: async () => {},
  };
}

function ratioForm(values) {
  const { form, input } = oneText({
    label: 'Steering ratio',
    start: String(values.value('ratio') ?? ''),
    mode: 'decimal',
    read: ratios.parse_ratio,
    hint: 'Degrees at the steering wheel for one degree at the front wheels: from the maker, or ' +
      'measured. Usually between 12 and 24.',
    ask: ({ value }) => values.askOf('ratio', value),
    onKeep: ({ value, confirmed }, typed) => values.keepPick('ratio', value, typed, confirmed),
  });
  return {
    parts: [drawSteeringWheel(null), form, values.leaveButtons('ratio')],
    focus: input,
    refresh: async () => {},
  };
}

const LEAD_ASK = 'Choose whether it lies ahead or behind.';

function leadPicks(behind, onPick) {
  return h(
    'fieldset',
    {},
    h('legend', { class: 'ask' }, 'From the frame-end ball, the axle-end ball is'),
    h(
      'div',
      { class: 'picks abreast' },
      [[false, 'ahead'], [true, 'behind']].map(([value, text]) =>
        h(
          'label',
          { class: 'pick' },
          h('input', {
            type: 'radio',
            name: 'lead',
            checked: value === behind,
            onchange: () => onPick(value),
          }),
          text,
        )
      ),
    ),
  );
}

async function padParts(app, values, field) {
  const known = values.value(field);
  let behind = known === null ? null : known < 0;
  const leads = field === 'fore_aft';
  const pad = await values.pad(
    field,
    leads ? (mm) => (behind ? -mm : mm) : undefined,
    (mm) => leads && mm && behind === null ? { says: LEAD_ASK, never: true } : null,
  );
  const picture = drawMeasure({
    step: STEP,
    field,
    frame_end: values.value('frame_end') ?? 'left',
    arm_points: values.value('arm_points') ?? 'forward',
    flip: app.flip,
  });
  const asked = leads
    ? leadPicks(behind, (value) => {
      behind = value;
      pad.say(null);
    })
    : h('p', { class: 'ask' }, values.asks[field]);
  return {
    parts: [
      h('h2', {}, values.names[field]),
      asked,
      picture,
      values.leaveButtons(field),
      pad.element,
    ],
    measuring: true,
    focus: pad.input,
    refresh: async () => {},
  };
}

function entering(app, values, field) {
  if (field === 'frame_end') {
    return {
      parts: [
        values.choices(field, 'The frame end of the drag link is on the', ['left', 'right']),
        values.leaveButtons(field),
        cautionList(steps.CAUTIONS[STEP]),
      ],
    };
  }
  if (field === 'arm_points') {
    return {
      parts: [
        values.choices(field, 'From the steering axis the arm points', ['forward', 'rearward']),
        values.leaveButtons(field),
      ],
    };
  }
  if (field === 'adjuster') {
    return { parts: [values.adjuster(), values.leaveButtons(field)], refresh: async () => {} };
  }
  if (field === 'wheel_deg') return wheelForm(values);
  return field === 'ratio' ? ratioForm(values) : padParts(app, values, field);
}

function orderBox() {
  return h(
    'section',
    { class: 'box order' },
    h('h2', {}, 'In this order'),
    h('ol', {}, linkSteps.STEERING_ORDER.map((says) => h('li', {}, says))),
  );
}

function whyBox(says) {
  return says.length > 0 &&
    h(
      'details',
      { class: 'box' },
      h('summary', {}, 'Why'),
      h('ul', { class: 'why' }, says.map((each) => h('li', {}, each))),
    );
}

function overview(app, job, round, values) {
  const findings = job.findings(round);
  const travel = findings.steer?.state === 'known' && travelButton(app, job, round);
  return {
    parts: [
      staleNotice(job, round, STEP),
      answerOf(linkAnswer.link_answer(findings, job.units)),
      numbersBox(linkAnswer.link_numbers(findings, job.units)),
      whyBox(linkAnswer.link_why(findings)),
      travel,
      findings.advice?.state !== 'hold' && orderBox(),
      h('h2', {}, 'Steering wheel'),
      values.rows(['wheel_deg']),
      h('h2', {}, 'Link and arm'),
      values.rows(LINK),
      values.carriedButton(LINK),
      h('h2', {}, 'Toe'),
      values.rows(TOE),
      h('h2', {}, 'Wheelbase'),
      values.rows(BASE),
      cautionList(steps.CAUTIONS[STEP]),
      h('div', { class: 'bottom row-buttons' }, nextButton(app, job, round, STEP)),
    ],
  };
}

/** The screen; `field` is the value being entered, or null for all of them. */
export function show(app, params) {
  return valuesScreen(app, params, STEP, { valuesOf, entering, overview });
}
