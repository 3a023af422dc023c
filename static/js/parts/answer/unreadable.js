/** What is said where entries or jobs of a vehicle cannot be read. */

import { h } from '../../dom.js';

/** A folded list of the entries, and how many jobs `failed`; nothing where all can be read. */
export function unreadableBox(entries, failed) {
  const found = entries.filter(({ kind }) => kind === 'unreadable');
  const jobs = failed > 0 &&
    h('p', { class: 'notice' }, `${failed} of the jobs cannot be shown here: look at the desk.`);
  return [
    jobs,
    found.length > 0 &&
    h(
      'details',
      { class: 'box' },
      h('summary', {}, `Entries that cannot be read: ${found.length}`),
      h(
        'div',
        { class: 'settings-body' },
        h('p', {}, 'They count for nothing here and stay as they are. Show this to a shop lead.'),
        found.map(({ body, made_at }) =>
          h('p', {}, `${body.says} (${made_at.slice(0, 16).replace('T', ' ')})`)
        ),
      ),
    ),
  ];
}
