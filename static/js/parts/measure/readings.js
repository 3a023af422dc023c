/** Kept readings, left and right side by side, and the striking of one. */

import { h } from '../../dom.js';
import { longest } from '../../store/contract.js';
import { fold } from '../../reckon.js';

const REASONS = ['Misread', 'Tape slipped or twisted', 'Wrong side or wrong face', 'Vehicle moved'];

/**
 * The readings of a step and round in order, each with whether it stands and whether a change came
 * after it.
 */
export function readingsOf(job, round, step) {
  const standing = new Set(fold.standing(job.entries).map(({ id }) => id));
  return job.entries.filter((entry) =>
    entry.kind === 'reading' && entry.round === round && entry.body.step === step
  )
    .map((entry) => ({
      entry,
      stands: standing.has(entry.id),
      overtaken: standing.has(entry.id) && job.isOvertaken(entry, step),
    }));
}

/**
 * A length as its entry has it: as typed, with the unit it was typed in where that is not the
 * usual.
 */
export function typedWords(entry, units) {
  const unit = entry.body.unit;
  const text = entry.typed ?? String(entry.body.value);
  return unit && unit !== units && !/[a-z"]/i.test(text) ? `${text} ${unit}` : text;
}

function where(entry) {
  return { kept: 'on phone', needs_you: 'refused' }[entry.state] ?? 'at shop';
}

function readingButton({ entry, stands, overtaken }, units, number, onStrike) {
  const is = !stands ? 'struck' : overtaken ? 'before the change' : where(entry);
  const label = `${entry.body.field} ${number}: ${typedWords(entry, units)}, ${is}`;
  return h(
    'button',
    {
      type: 'button',
      class: `reading${stands ? '' : ' struck'}${overtaken ? ' overtaken' : ''}`,
      'aria-label': `${label}. ${stands ? 'Strike it' : 'Undo strike'}`,
      onclick: () => onStrike(entry, stands),
    },
    h('span', {}, typedWords(entry, units)),
    h('small', {}, is),
  );
}

function column(side, { readings, units, drivingSide, now, onStrike, onSide }) {
  const mine = readings.filter(({ entry }) => entry.body.field === side);
  return h(
    'section',
    {},
    h(
      'h2',
      {},
      side === 'left' ? 'Left' : 'Right',
      side === drivingSide && h('small', {}, 'driver\u2019s'),
    ),
    mine.map((each, index) => readingButton(each, units, index + 1, onStrike)),
    now?.side === side
      ? h(
        'div',
        { class: 'reading now' },
        h('span', { class: 'live' }, now.text || '\u2026'),
        h('small', {}, 'reading'),
      )
      : onSide &&
        h(
          'button',
          { type: 'button', class: 'reading soft', onclick: () => onSide(side) },
          h('small', {}, `read ${side}`),
        ),
  );
}

/** The two columns; `flip` swaps them for someone who faces the other way. */
export function sidesTable(options) {
  const order = options.flip ? ['right', 'left'] : ['left', 'right'];
  return h('div', { class: 'sides' }, order.map((side) => column(side, options)));
}

/**
 * Asks for the reason of a strike; the reason, or null when it is called off. Where a reading can
 * be measured `again` instead, one touch does that.
 */
export function askReason(what, again = null) {
  return new Promise((resolve) => {
    const other = h('input', {
      name: 'other',
      autocomplete: 'off',
      maxlength: longest('strike', 'reason'),
      'aria-label': 'Another reason',
    });
    const dialog = h(
      'dialog',
      { 'aria-label': 'Strike' },
      h(
        'form',
        {
          method: 'dialog',
          onsubmit: (event) => {
            const reason = other.value.trim() || new FormData(event.target).get('reason');
            if (event.submitter?.value === 'strike') resolve(reason);
          },
        },
        h('h2', {}, `Strike ${what}?`),
        h('p', { class: 'soft' }, 'It stays in the log, crossed out, with your reason.'),
        h(
          'div',
          { class: 'picks' },
          REASONS.map((reason, index) =>
            h(
              'label',
              { class: 'pick' },
              h('input', { type: 'radio', name: 'reason', value: reason, checked: index === 0 }),
              reason,
            )
          ),
        ),
        h('label', { class: 'field' }, 'Or another reason', other),
        h(
          'div',
          { class: 'row-buttons' },
          h('button', { value: 'cancel' }, 'Cancel'),
          again && h('button', { value: 'again', onclick: again }, 'Replace'),
          h('button', { value: 'strike', class: 'main' }, 'Strike'),
        ),
      ),
    );
    dialog.addEventListener('close', () => {
      resolve(null);
      dialog.remove();
    });
    document.body.append(dialog);
    dialog.showModal();
  });
}
