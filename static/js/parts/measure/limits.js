/** The limits of a joint: the maker's with its source and the house's, never merged. */

import { dial, typed_answers as typedAnswers } from '../../reckon.js';
import { h } from '../../dom.js';
import { longest } from '../../store/contract.js';
import { withDraft } from './form_draft.js';

function limitText(mm, unit) {
  return mm === null || mm === undefined ? '' : dial.show_dial(mm, unit);
}

// A limit shown in thousandths may be rounded: what nobody changes stays the limit that it was.
function limitField(name, label, mm, unit) {
  return { ...field(name, label, limitText(mm, unit)), mm, shown: limitText(mm, unit) };
}

function field(name, label, value) {
  const fault = h('p', { class: 'fault', role: 'alert' });
  const maxlength = longest('pick.play.limit', 'value', 'maker_source');
  const input = h('input', { name, value, autocomplete: 'off', maxlength });
  return {
    input,
    fault,
    element: h('div', { class: 'field' }, h('label', {}, label, input), fault),
  };
}

/**
 * A limit in mm, null where nothing is written, undefined where it cannot be read: its field says
 * why.
 */
function read({ input, fault, mm, shown }, unit) {
  const text = input.value.trim();
  if (text && text === shown) return mm;
  const found = text ? dial.parse_dial(text, unit) : { ok: true, value: null };
  fault.textContent = found.ok ? '' : typedAnswers.says_with_choices(found);
  return found.ok ? found.value : undefined;
}

function summaryWords(limits, unit) {
  const parts = [['maker', limits?.maker_limit], ['house', limits?.house_limit]].filter(([, mm]) =>
    mm !== null && mm !== undefined
  );
  return parts.length
    ? `Limits: ${parts.map(([whose, mm]) => `${whose} ${dial.show_fine(mm, unit)}`).join(', ')}`
    : 'No known limit';
}

/**
 * The folded form, its draft under `key`; `onKeep` gets {maker_limit, maker_source, house_limit},
 * limits in mm or null.
 */
export async function limitsForm(app, key, limits, unit, onKeep) {
  const maker = limitField('maker', 'Maker\u2019s limit', limits?.maker_limit, unit);
  const source = field('source', 'Source of the maker\u2019s figure', limits?.maker_source ?? '');
  const house = limitField('house', 'House limit', limits?.house_limit, unit);
  const submit = (event) => {
    event.preventDefault();
    const [maker_limit, house_limit] = [read(maker, unit), read(house, unit)];
    const from = source.input.value.trim();
    source.fault.textContent = typeof maker_limit === 'number' && !from
      ? 'Say where the figure comes from: manual, page, part sheet.'
      : '';
    if (maker_limit === undefined || house_limit === undefined || source.fault.textContent) {
      return undefined;
    }
    return onKeep({ maker_limit, maker_source: maker_limit === null ? null : from, house_limit });
  };
  return h(
    'details',
    { class: 'box' },
    h('summary', {}, summaryWords(limits, unit)),
    await withDraft(
      app,
      key,
      h(
        'form',
        { class: 'settings-body', onsubmit: submit },
        h(
          'p',
          { class: 'soft' },
          'A limit means nothing without where and how it was measured. With no limit, the ' +
            'movement is recorded and not judged.',
        ),
        maker.element,
        source.element,
        house.element,
        h('button', { class: 'main' }, 'Save limits'),
      ),
    ),
  );
}
