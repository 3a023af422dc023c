/** What stands in place of a job while somebody measures it again without knowing its readings. */

import { h } from '../dom.js';
import { Sealed } from '../model.js';

/** The screen instead of one that met sealed readings; any other error goes on. */
export function instead(app, error) {
  if (!(error instanceof Sealed)) throw error;
  const { vehicle, about, axle } = error.job;
  return {
    title: about || `${axle} axle`,
    back: () => app.go(`#/vehicle/${vehicle}`),
    parts: [
      h(
        'p',
        { class: 'answer' },
        'A second reading of this job is in progress. The first readings are hidden until it is ' +
          'handed in.',
      ),
    ],
  };
}
