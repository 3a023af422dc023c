/** In place of every screen that takes something in, where nothing is to be kept. */

import { h } from '../dom.js';
import { setUpHelp } from '../parts/device/install.js';

/** The screen; `code` is the tag that was scanned, if any. */
export async function show(app, { code = null }) {
  return {
    title: 'Open the app',
    back: () => history.back(),
    parts: [
      setUpHelp(code),
      h(
        'p',
        { class: 'soft' },
        'In this tab you can read vehicles and jobs, if this phone was paired here.',
      ),
      h(
        'div',
        { class: 'bottom row-buttons' },
        h('button', { type: 'button', onclick: () => app.go('#/') }, 'Vehicles'),
      ),
    ],
    refresh: async () => {},
  };
}
