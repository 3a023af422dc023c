/** The rounds of a job side by side: what was found, what is left, and the numbers that changed. */

import {answer, side_by_side as sideBySide, words as terms} from '../reckon.js';
import {draw as drawHistory} from '../figures/history.js';
import {fromFindings} from '../figures/interval.js';
import {h, runs} from '../dom.js';

function name(round) {
  const words = terms.ROUND_WORDS[round];
  return words[0].toUpperCase() + words.slice(1);
}

// One scale for both, so that what is inside looks inside and smaller looks smaller.
function intervals(job, rounds, flip) {
  const points = rounds.map((round) => ({...fromFindings(job.findings(round)), at: name(round), label: terms.VERDICTS[job.findings(round).centring.state]}));
  return h('figure', {class: 'pairs'}, drawHistory({points}, {flip}));
}

function answers(job, rounds) {
  return h('details', {}, h('summary', {}, 'Both answers'), rounds.map((round) => h('div', {class: 'said'}, h('h3', {}, name(round)), h('p', {}, runs(job.findings(round).answer)))));
}

function numbers(job, [first, last]) {
  const rows = sideBySide.changed_numbers(job.findings(first), job.findings(last));
  if (!rows.length) return null;
  return h('details', {}, h('summary', {}, 'Numbers that changed'), h('table', {class: 'compare'},
    h('thead', {}, h('tr', {}, [h('td', {}), h('th', {scope: 'col'}, name(first)), h('th', {scope: 'col'}, name(last))])),
    h('tbody', {}, rows.map((row) => h('tr', {}, h('th', {scope: 'row'}, row.name), h('td', {}, row.before), h('td', {}, row.after))))));
}

/** First and last measured round side by side; null where fewer than two were measured. */
export function beforeAfter(job, flip) {
  const judged = job.rounds.filter((each) => fromFindings(job.findings(each)));
  if (judged.length < 2) return null;
  const rounds = [judged[0], judged.at(-1)];
  return h('section', {class: 'box before-after'}, h('h2', {}, `From ${terms.ROUND_WORDS[rounds[0]]} to ${terms.ROUND_WORDS[rounds[1]]}`),
    h('p', {class: 'answer'}, runs(answer.before_after(job.findings(rounds[0]), job.findings(rounds[1]), job.units))),
    intervals(job, rounds, flip), numbers(job, rounds), answers(job, rounds));
}
