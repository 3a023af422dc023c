/** Scanning a tag inside the app, with the code to be typed always beside it. */

import { canScan, Scanner } from '../parts/device/scanner.js';
import { codeIn } from '../parts/find.js';
import { h } from '../dom.js';

const SAYS = {
  starting: 'Starting the camera\u2026',
  looking: 'Point the camera at the square on the tag.',
  dark:
    'No picture from the camera. Trying again; you can type the code next to the square instead.',
  refused: 'This browser does not let the app use the camera. Allow it in the browser ' +
    'settings, or type the code.',
  blind: 'This browser cannot read QR codes. Point the phone\u2019s own camera at the tag and ' +
    'open the address it shows, or type the code.',
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

function start(app, says) {
  let last = null;
  const scanner = new Scanner({
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
  const works = await canScan();
  const says = h('p', { class: 'ask', role: 'status' }, works ? SAYS.starting : SAYS.blind);
  const scanner = works && start(app, says);
  return {
    title: 'Scan a tag',
    back: () => app.go('#/'),
    parts: [scanner && scanner.video, says, codeForm(app)],
    refresh: async () => {},
    leave: () => scanner && scanner.stop(),
  };
}
