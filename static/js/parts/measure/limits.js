/** The limits of a joint: the maker's with its source and the house's, never merged. */

import { dial } from '../../reckon.js';
import { h } from '../../dom.js';
import { longest } from '../../store/contract.js';
import { TypedField } from './asked.js';
import { withDraft } from './form_draft.js';

function limitText(mm, unit) {
  return mm === null || mm === undefined ? '' : dial.show_dial(mm, unit);
}

// A limit shown in thousandths may be rounded: what nobody changes stays the limit that it was.
function limitField(name, label, mm, unit, ask) {
  const shown = limitText(mm, unit);
  return new TypedField({
    label,
    shown,
    read: (text) => (text === shown ? { ok: true, value: mm } : dial.parse_dial(text, unit)),
    ask: ({ value }) => (value === mm ? null : ask(value)),
    empty: true,
    more: { name },
  });
}

function sourceField(name, label, value) {
  const fault = h('p', { class: 'fault', role: 'alert' });
  const maxlength = longest('pick.play.limit', 'value', 'maker_source');
  const input = h('input', { name, value, autocomplete: 'off', maxlength });
  return {
    input,
    fault,
    element: h('div', { class: 'field' }, h('label', {}, label, input), fault),
  };
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
 * limits in mm or null, and the questions that were answered; `ask(field, mm)` finds what is to be
 * asked about a limit.
 */
export async function limitsForm(app, key, limits, unit, { ask, onKeep }) {
  const limit = (name, label) => {
    const field = `${name}_limit`;
    return limitField(name, label, limits?.[field], unit, (mm) => ask(field, mm));
  };
  const maker = limit('maker', 'Maker\u2019s limit');
  const source = sourceField(
    'source',
    'Source of the maker\u2019s figure',
    limits?.maker_source ?? '',
  );
  const house = limit('house', 'House limit');
  const submit = (event) => {
    event.preventDefault();
    const [made, own] = [maker.take(), house.take()];
    const from = source.input.value.trim();
    source.fault.textContent = made && !from
      ? 'Say where the figure comes from: manual, page, part sheet.'
      : '';
    if (made === undefined || own === undefined || source.fault.textContent) return undefined;
    const values = {
      maker_limit: made?.value ?? null,
      maker_source: made ? from : null,
      house_limit: own?.value ?? null,
    };
    return onKeep(values, [made?.confirmed, own?.confirmed]);
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
          'A limit means nothing unless it says where and how to measure. With no limit, the ' +
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
