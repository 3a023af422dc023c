/**
 * Findings on the screen: the answer first, then the interval, the drawing, the numbers and why.
 */

import { caption, draw as drawAxle } from '../../figures/axle_view.js';
import { draw as drawInterval, fromFindings } from '../../figures/interval.js';
import { h, runs } from '../../dom.js';
import { lengths } from '../../reckon.js';

function intervalBox(findings, units, flip) {
  const data = fromFindings(findings);
  if (!data) return null;
  const limit = lengths.show_limit(data.limit, units);
  return h(
    'figure',
    { class: 'box' },
    h('h2', {}, `Offset against the limit, ${limit} each way`),
    drawInterval(data, { flip }),
  );
}

function acrossBox(sheet, findings, record, flip, onFlip) {
  if (findings.bar_arc?.state !== 'known' && findings.centering?.offset === undefined) return null;
  const data = { sheet, findings, rail_width: record?.rail_width };
  return h(
    'figure',
    { class: 'box' },
    h('h2', {}, caption(data, { flip })),
    drawAxle(data, { flip }),
    onFlip &&
      h(
        'button',
        { type: 'button', class: 'flip', onclick: onFlip },
        flip ? 'See it from behind' : 'See it from the front',
      ),
  );
}

/** The rows of numbers as a list. */
export function numbersBox(numbers) {
  if (!numbers.length) return null;
  return h(
    'dl',
    { class: 'box nums' },
    numbers.map(({ name, shows }) => h('div', {}, h('dt', {}, name), h('dd', {}, shows))),
  );
}

/** The sentence, and what makes it doubtful. */
export function answerLine(findings) {
  if (!findings.answer.length) return null;
  // A headline that already says it is not followed by the same sentence again.
  const doubts = (findings.centering?.unsteady ?? []).filter((doubt) =>
    !findings.says.includes(doubt)
  );
  return [
    h('p', { class: 'answer', tabindex: '-1' }, runs(findings.answer)),
    doubts.map((says) => h('p', { class: 'notice' }, says)),
  ];
}

/** Everything that the findings of a sheet say, as a list of elements. */
export function findingsView(sheet, findings, { record = null, flip = false, onFlip = null } = {}) {
  if (findings.faults) {
    return [h(
      'p',
      { class: 'answer' },
      findings.faults.map(({ field, says }) => `${field} ${says}. `).join(''),
    )];
  }
  return [
    answerLine(findings),
    intervalBox(findings, sheet.units, flip),
    acrossBox(sheet, findings, record, flip, onFlip),
    numbersBox(findings.numbers),
    findings.why.length
      ? h(
        'details',
        { class: 'box' },
        h('summary', {}, 'Why'),
        h('ul', { class: 'why' }, findings.why.map((says) => h('li', {}, says))),
      )
      : null,
  ];
}

/** The cautions of a step. */
export function cautionList(cautions) {
  return h(
    'ul',
    { class: 'cautions', 'aria-label': 'Cautions' },
    cautions.map((says) => h('li', {}, says)),
  );
}

/** The same where there is little room: the first one, and the others once it is touched. */
export function foldedCautions([first, ...others]) {
  return h('details', { class: 'caution-fold' }, h('summary', {}, first), cautionList(others));
}
