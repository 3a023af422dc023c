/** Why the advice is held, with a button that it was measured again where that ends a reason. */

import { IT_IS_RIGHT } from '../measure/asked.js';
import { confirming, isOpen } from '../measure/step.js';
import { h } from '../../dom.js';

/** The reasons of a round that can be answered so, each with its button; nothing where none is. */
export function holdAnswers(app, job, round) {
  const reasons = (job.findings(round).advice?.reasons ?? []).filter(({ key }) => key);
  if (!isOpen(job) || reasons.length === 0) return null;
  const answer = async (reason) => {
    await app.keep(confirming(job, round, reason));
    await app.redraw();
  };
  return h(
    'section',
    { class: 'box hold-answers' },
    h('h2', {}, 'Measured again?'),
    h(
      'ul',
      { class: 'rows' },
      reasons.map((reason) =>
        h(
          'li',
          {},
          h('p', {}, reason.says),
          h('button', { type: 'button', onclick: () => answer(reason) }, IT_IS_RIGHT),
        )
      ),
    ),
  );
}
