/** Making this phone somebody's, by the code that the lead shows. */

import { h } from '../dom.js';
import { heldWords } from '../parts/frame.js';
import { pair } from '../sync/shop.js';

async function join(app, code) {
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
    return join(app, input.value);
  };
  return {
    input,
    element: h(
      'form',
      { onsubmit },
      h('div', { class: 'field' }, h('label', { for: 'code' }, 'Pairing code'), input),
      h('div', { class: 'row-buttons' }, h('button', { class: 'main' }, 'Make it mine')),
    ),
  };
}

function owner(person) {
  return person
    ? `This phone is ${person.name}\u2019s. A new code of the same person keeps everything on ` +
      'it; the shop takes what it still holds.'
    : 'The lead shows a code for you at the desk, under People. It works once, within ten minutes.';
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
      h('p', { class: 'soft' }, 'No code? ', h('a', { href: '/door' }, 'Go to the door'), '.'),
    ],
    busy: () => Boolean(input.value) || document.activeElement === input,
  };
}
