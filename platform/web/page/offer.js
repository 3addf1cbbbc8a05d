// Offers another version of the program in words, above the program: it is loaded when the person says so, never before,
// and after everything touched is written.
'use strict';

import {keepOnDevice} from './update.js';
import {sentence} from './sentences.js';

const quietMs = 1500;  // the page moves for the offer, and never under a finger
let touchedAt = -Infinity;

/**
 * Keeps the program on the device and shows `box` when another version is ready. `settled` resolves when everything is
 * written.
 */
export function offerUpdates(box, settled) {
  for (const kind of ['pointerdown', 'pointermove', 'pointerup'])
    addEventListener(kind, () => { touchedAt = performance.now(); }, {capture: true, passive: true});
  keepOnDevice(take => show(box, async () => {
    box.hidden = true;
    await settled();
    await take();
    location.reload();
  }));
}

function show(box, take) {
  const [text, now, later] = box.children;
  text.textContent = sentence('update_ready');
  now.textContent = sentence('update_now');
  later.textContent = sentence('update_later');
  now.onclick = take;
  later.onclick = () => { box.hidden = true; };
  whenQuiet(() => { box.hidden = false; });
}

function whenQuiet(act) {
  const left = touchedAt + quietMs - performance.now();
  if (left <= 0) act();
  else setTimeout(() => whenQuiet(act), left);
}
