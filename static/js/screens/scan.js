/** Scanning a tag inside the app, with the code to be typed always beside it. */

import { readers, Scanner } from '../parts/device/scanner.js';
import { codeIn } from '../parts/find.js';
import { h } from '../dom.js';
import { ShopReader } from '../sync/tag_reader.js';

const SAYS = {
  starting: 'Starting the camera\u2026',
  looking: 'Point the camera at the square on the tag.',
  dark:
    'No picture from the camera. Trying again; you can type the code next to the square instead.',
  refused: 'This browser does not let the app use the camera. Allow it in the browser ' +
    'settings, or type the code.',
  away: 'This browser needs the shop to read the square, and the shop does not answer. Trying ' +
    'again; you can type the code next to the square instead.',
  blind: 'The square cannot be read in this browser. Type the code next to it.',
};

function codeForm(app) {
  const fault = h('p', { class: 'fault', role: 'alert', id: 'code-fault' });
  const input = h('input', {
    name: 'code',
    'aria-label': 'Tag code',
    'aria-describedby': 'code-fault',
    placeholder: 'K7RM-4TQX',
    autocapitalize: 'characters',
    autocomplete: 'off',
    spellcheck: 'false',
  });
  const submit = (event) => {
    event.preventDefault();
    const code = codeIn(input.value);
    if (code) return app.openTag(code);
    fault.textContent = 'A tag code has eight letters and digits, such as K7RM-4TQX.';
    return input.focus();
  };
  return h(
    'form',
    { class: 'bottom code-form', onsubmit: submit },
    fault,
    h('div', { class: 'finder' }, input, h('button', { class: 'main' }, 'Open')),
  );
}

function start(app, says, found) {
  let last = null;
  const scanner = new Scanner(found, {
    onState: (state) => {
      says.textContent = SAYS[state];
    },
    onText: (text) => {
      if (text === last) return;
      last = text;
      const code = codeIn(text);
      if (!code) says.textContent = 'That code is not a tag from this shop.';
      else {
        navigator.vibrate?.(30);
        app.openTag(code);
      }
    },
  });
  scanner.start();
  return scanner;
}

/** The screen; `leave` turns the camera off. */
export async function show(app) {
  const found = await readers(new ShopReader(app.store));
  const works = found.length > 0;
  const says = h('p', { class: 'ask', role: 'status' }, works ? SAYS.starting : SAYS.blind);
  const scanner = works && start(app, says, found);
  return {
    title: 'Scan a tag',
    back: () => app.go('#/'),
    parts: [scanner && scanner.video, says, codeForm(app)],
    refresh: async () => {},
    leave: () => scanner && scanner.stop(),
  };
}
