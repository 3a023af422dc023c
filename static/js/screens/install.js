/** In place of every screen that takes something in, in a tab of an iPhone or iPad. */

import {h} from '../dom.js';
import {installHelp} from '../parts/install.js';

/** The screen; `code` is the tag that was scanned, if any. */
export async function show(app, {code = null}) {
  return {
    title: 'Open the app', back: () => history.back(),
    parts: [installHelp(code), h('p', {class: 'soft'}, 'In this tab vehicles and jobs can be read, as far as this phone was paired in it.'),
      h('div', {class: 'bottom row-buttons'}, h('button', {type: 'button', onclick: () => app.go('#/')}, 'Vehicles'))],
    refresh: async () => {},
  };
}
