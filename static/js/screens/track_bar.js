/** Track bar: its ends, length, heights and adjuster; then what to turn, and its arc. */

import { cautionList, findingsView } from '../parts/answer/findings.js';
import { changeButton, staleNotice } from '../parts/measure/changes.js';
import { nextButton, travelButton } from '../parts/measure/step.js';
import { draw as drawMeasure } from '../figures/measure.js';
import { links_of_round as linksOfRound, step_names as stepNames, steps } from '../reckon.js';
import { h } from '../dom.js';
import { Values, valuesScreen } from '../parts/measure/values.js';

const STEP = 'track_bar';
const FIELDS = ['frame_end', ...linksOfRound.BAR_READINGS, 'adjuster'];
// What the turns need comes first; what only compares lever arms is asked for by whoever does.
const WALK = [
  'frame_end',
  'length',
  'frame_height',
  'axle_height',
  'fore_aft',
  'adjuster',
  'frame_end_from_center',
  'bump',
  'droop',
];

function valuesOf(app, job, round) {
  return new Values(app, job, round, {
    step: STEP,
    names: { frame_end: 'Frame end on the', adjuster: 'Adjuster', ...stepNames.BAR_NAMES },
    asks: steps.BAR_ASKS,
    picks: linksOfRound.BAR_PICKS,
    walks: [WALK],
    valueOf: (sheet, field) => sheet.track_bar?.[field],
  });
}

async function entering(app, values, field) {
  if (field === 'frame_end') {
    return {
      parts: [
        values.choices(field, 'The frame end of the bar is on the', ['left', 'right']),
        values.leaveButtons(field),
        cautionList(steps.CAUTIONS[STEP]),
      ],
    };
  }
  if (field === 'adjuster') {
    return { parts: [values.adjuster(), values.leaveButtons(field)], refresh: async () => {} };
  }
  const pad = await values.pad(field);
  const picture = drawMeasure({
    step: STEP,
    field,
    frame_end: values.value('frame_end') ?? 'left',
    flip: app.flip,
  });
  return {
    parts: [
      h('h2', {}, values.names[field]),
      h('p', { class: 'ask' }, values.asks[field]),
      picture,
      values.leaveButtons(field),
      pad.element,
    ],
    measuring: true,
    focus: pad.input,
    refresh: async () => {},
  };
}

function overview(app, job, round, values) {
  return {
    parts: [
      staleNotice(job, round, STEP),
      findingsView(job.sheet(round), job.findings(round), {
        record: job.record,
        flip: app.flip,
        onFlip: () => app.turn(),
      }),
      travelButton(app, job, round),
      values.rows(FIELDS),
      values.carriedButton(FIELDS),
      cautionList(steps.CAUTIONS[STEP]),
      h(
        'div',
        { class: 'bottom row-buttons' },
        changeButton(app, job, round),
        nextButton(app, job, round, STEP),
      ),
    ],
  };
}

/** The screen; `field` is the value being entered, or null for all of them. */
export function show(app, params) {
  return valuesScreen(app, params, STEP, { valuesOf, entering, overview });
}
