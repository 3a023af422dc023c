/** The steering wheel as its driver sees it, turned to where it sits; left is to the left. */

import { drawing, line, s, words } from '../dom.js';
import { terms } from '../reckon.js';

const [X, Y, R] = [164, 66, 46];

function spoke(degrees) {
  const at = ((degrees - 90) * Math.PI) / 180;
  return line(X, Y, X + R * Math.cos(at), Y + R * Math.sin(at), 'line');
}

/** The wheel at an angle in degrees, left positive; null where nothing was said yet. */
export function draw(wheelDeg) {
  const turned = -(wheelDeg ?? 0);
  const said = wheelDeg === null ? 'A steering wheel' : terms.wheel_sits(wheelDeg);
  return drawing(
    328,
    122,
    said,
    words(92, 26, 'left', '', 'end'),
    words(236, 26, 'right'),
    line(X, 4, X, 16, 'axis'),
    s(
      'g',
      { transform: `rotate(${turned} ${X} ${Y})` },
      s('circle', { cx: X, cy: Y, r: R, class: 'line' }),
      s('circle', { cx: X, cy: Y, r: 10, class: 'shape' }),
      [90, 270, 180].map(spoke),
      s('path', {
        d: `M${X - 6} ${Y - R - 4}h12v9h-12z`,
        class: wheelDeg === null ? 'fine' : 'scribe-fill',
      }),
    ),
  );
}
