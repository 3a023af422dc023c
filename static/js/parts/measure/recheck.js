/** When the fasteners are to be checked again: after a distance, on a day, or both. */

import { askOf, TypedField } from './asked.js';
import { confirming, isOpen } from './step.js';
import { distances, joint_terms as asks } from '../../reckon.js';
import { h } from '../../dom.js';
import { likeBefore, replacingLike } from './same_entry.js';
import { withDraft } from './form_draft.js';

const WEEKS = 4;
const USUAL = { in: { distance: 500, unit: 'mi' }, mm: { distance: 800, unit: 'km' } };

function weeksOn(weeks) {
  const day = new Date(Date.now() + weeks * 7 * 86400000);
  return new Date(day.getTime() - day.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
}

async function keep(app, job, round, value, confirmed, dropDraft) {
  await app.keep([
    replacingLike(job, round, 'pick', { step: 'torque', field: 'recheck', value }),
    ...confirming(job, round, confirmed),
  ], { dropDraft });
  await app.redraw();
}

function form(app, job, round, due) {
  const key = `${job.job}|${round}|torque|recheck`;
  const usual = USUAL[job.units];
  const fault = h('p', { class: 'fault', role: 'alert' });
  const distance = new TypedField({
    label: 'After this distance',
    shown: String(due?.distance ?? ''),
    read: distances.parse_driven,
    ask: ({ value }) => askOf(job, round, 'recheck.distance', value),
    empty: true,
    more: { name: 'distance', inputmode: 'decimal' },
  });
  const date = h('input', {
    name: 'date',
    type: 'date',
    min: '2000-01-01',
    max: '2999-12-31',
    value: due?.date ?? '',
  });
  const submit = (event) => {
    event.preventDefault();
    const found = distance.take();
    if (found === undefined) return undefined;
    const ok = found !== null || Boolean(date.value);
    fault.textContent = ok ? '' : 'Enter a distance such as 500, or choose a date.';
    const far = found && {
      distance: found.value,
      unit: found.unit ?? new FormData(event.target).get('unit'),
    };
    return ok && keep(
      app,
      job,
      round,
      { ...(far ?? { distance: null, unit: null }), date: date.value || null },
      found?.confirmed,
      key,
    );
  };
  const asUsual = () => {
    distance.put(String(usual.distance));
    date.value = weeksOn(WEEKS);
    date.dispatchEvent(new Event('input', { bubbles: true }));
  };
  const unit = (value, text) =>
    h(
      'label',
      { class: 'pick' },
      h('input', {
        type: 'radio',
        name: 'unit',
        value,
        checked: value === (due?.unit ?? usual.unit),
      }),
      text,
    );
  return withDraft(
    app,
    key,
    h(
      'form',
      { class: 'settings-body', onsubmit: submit },
      h(
        'button',
        { type: 'button', onclick: asUsual },
        `${usual.distance} ${usual.unit}, ${WEEKS} weeks`,
      ),
      distance.element,
      h(
        'div',
        { class: 'picks abreast', role: 'radiogroup', 'aria-label': 'Unit of the distance' },
        unit('km', 'km'),
        unit('mi', 'miles'),
      ),
      h('label', { class: 'field' }, 'No later than this date', date),
      h('div', { class: 'field' }, fault),
      h('button', { class: 'main' }, 'Save re-check'),
    ),
  );
}

/** The folded box with what is due, and a form while the job is open. */
export async function recheckForm(app, job, round) {
  const due =
    likeBefore(job, round, 'pick', { step: 'torque', field: 'recheck', value: {} })?.body.value ??
      null;
  return h(
    'details',
    { class: 'box' },
    h('summary', {}, due ? `Check again ${asks.recheck_words(due)}` : 'When to check again'),
    isOpen(job) && await form(app, job, round, due),
  );
}
