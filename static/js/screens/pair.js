/** Making this phone somebody's, by the code that the lead shows. */

import { h } from '../dom.js';
import { heldWords } from '../parts/frame.js';
import { pair } from '../sync/pairing.js';

async function pairThis(app, code) {
  try {
    await pair(app.store, code);
  } catch (error) {
    app.alarm(error.says ?? String(error));
    return;
  }
  app.shop.nudge();
  await app.go('#/', { replace: true });
}

function form(app, code) {
  const input = h('input', {
    id: 'code',
    type: 'text',
    value: code,
    autocapitalize: 'characters',
    autocomplete: 'off',
    spellcheck: 'false',
    maxlength: '20',
    required: true,
  });
  const onsubmit = (event) => {
    event.preventDefault();
    return pairThis(app, input.value);
  };
  return {
    input,
    element: h(
      'form',
      { onsubmit },
      h('div', { class: 'field' }, h('label', { for: 'code' }, 'Pairing code'), input),
      h('div', { class: 'row-buttons' }, h('button', { class: 'main' }, 'Pair')),
    ),
  };
}

function owner(person) {
  return person
    ? `This phone is ${person.name}\u2019s. With a new code for the same person it keeps ` +
      'everything and sends what it still has.'
    : 'The lead can show you a code at the desk, under People. It works once, within ten minutes.';
}

/** The screen; `code` comes along when the lead's QR was scanned while the app was open. */
export async function show(app, { code = '' }) {
  const [person, counts] = [await app.store.fact('person'), await app.store.counts()];
  const { input, element } = form(app, code);
  return {
    title: person ? 'Pair again' : 'Pair this phone',
    back: () => app.go('#/', { replace: true }),
    parts: [
      h('p', {}, owner(person)),
      person && h('p', {}, heldWords(counts, app.shop.state().heard)),
      element,
      h(
        'p',
        { class: 'soft' },
        'Are you the lead? ',
        h('a', { href: '/door' }, 'Sign in at the desk'),
        '.',
      ),
    ],
    busy: () => Boolean(input.value) || document.activeElement === input,
  };
}
