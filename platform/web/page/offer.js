// Offers another version of the program in words, above the program: it is loaded when the person says so, never before,
// and after everything touched is written.
'use strict';

import {keepOnDevice} from './update.js';
import {sentence} from './sentences.js';

/**
 * Keeps the program on the device and shows `box` when another version is ready. `settled` resolves when everything is
 * written.
 */
export function offerUpdates(box, settled) {
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
  box.hidden = false;
}
