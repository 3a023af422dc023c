/** The rounds of a job side by side: what was found, what is left, and the numbers that changed. */

import { answer, compared_rounds as comparedRounds, terms } from '../../reckon.js';
import { draw as drawHistory } from '../../figures/history.js';
import { fromFindings } from '../../figures/interval.js';
import { h, runs } from '../../dom.js';

function name(round) {
  const words = terms.ROUND_WORDS[round];
  return words[0].toUpperCase() + words.slice(1);
}

// One scale for both, so that what is inside looks inside and smaller looks smaller.
function intervals(job, rounds, flip) {
  const points = rounds.map((round) => {
    const found = fromFindings(job.findings(round));
    return { ...found, at: name(round), label: terms.verdict_said(found.state, found.held) };
  });
  return h('figure', { class: 'pairs' }, drawHistory({ points }, { flip }));
}

function answers(job, rounds) {
  return h(
    'details',
    {},
    h('summary', {}, 'Both answers'),
    rounds.map((round) =>
      h(
        'div',
        { class: 'said' },
        h('h3', {}, name(round)),
        h('p', {}, runs(job.findings(round).answer)),
      )
    ),
  );
}

function table(rows, [first, last]) {
  return rows.length > 0 &&
    h(
      'table',
      { class: 'compare' },
      h(
        'thead',
        {},
        h('tr', {}, [
          h('td', {}),
          h('th', { scope: 'col' }, name(first)),
          h('th', { scope: 'col' }, name(last)),
        ]),
      ),
      h(
        'tbody',
        {},
        rows.map((row) =>
          h(
            'tr',
            {},
            h('th', { scope: 'row' }, row.name),
            h('td', {}, row.before),
            h('td', {}, row.after),
          )
        ),
      ),
    );
}

function numbers(job, rounds) {
  const [before, after] = rounds.map((round) => job.findings(round));
  const changed = table(comparedRounds.changed_numbers(before, after), rounds);
  return changed && h('details', {}, h('summary', {}, 'Numbers that changed'), changed);
}

// What both rounds measured beside the centering.
function beside(job, rounds) {
  const [before, after] = rounds.map((round) =>
    comparedRounds.beside_centering(job.sheet(round), job.findings(round), job.units)
  );
  return table(
    comparedRounds.measured_twice(before, after),
    rounds,
  );
}

/** The first and the last measured round side by side; null where there are no two to compare. */
export function beforeAfter(job, flip) {
  const judged = job.rounds.filter((each) => fromFindings(job.findings(each)));
  const isJudged = judged.length > 1;
  const of = isJudged ? judged : job.rounds;
  const rounds = [of[0], of.at(-1)];
  const both = of.length > 1 && beside(job, rounds);
  return (isJudged || both) &&
    h(
      'section',
      { class: 'box before-after' },
      h('h2', {}, `From ${terms.ROUND_WORDS[rounds[0]]} to ${terms.ROUND_WORDS[rounds[1]]}`),
      isJudged && [
        h(
          'p',
          { class: 'answer' },
          runs(answer.before_after(job.findings(rounds[0]), job.findings(rounds[1]), job.units)),
        ),
        intervals(job, rounds, flip),
      ],
      both,
      isJudged && [numbers(job, rounds), answers(job, rounds)],
    );
}
