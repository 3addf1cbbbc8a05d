// What the program gets from the device beside pictures and pointers: a screen reader, the back gesture, a screen that
// stays on, touches that are felt. All of them look at the program's marks when it has come to rest.
'use strict';

import {Awake} from './awake.js';
import {BackGesture} from './back.js';
import {Haptics} from './haptics.js';
import {Reader} from './reader.js';

/**
 * `marks()`: a promise of the marks. `post(message)`: to the program's worker. `listen(kind, hear)`: to what it says.
 * `scale()`: pixels of the program for each of the page. Returns: the reader.
 */
export function attachDevice({stage, root, marks, post, listen, scale}) {
  const act = (what, name, text = '') => post({kind: 'act', what, name, text});
  const press = key => [true, false].forEach(down => post({kind: 'key', code: key, key, down, held: 0}));
  const back = new BackGesture(act, press), awake = new Awake(), haptics = new Haptics();
  const lookAt = now => { for (const each of [back, awake, haptics]) each.update(now); };
  const reader = new Reader(root, {marks, act, seen: lookAt}, scale);
  listen('rested', () => reader.look());
  listen('saved', () => haptics.saved());
  stage.addEventListener('pointerdown', () => reader.touched(), {passive: true});
  // A page that is hidden may never come back: what is being typed is kept first.
  document.addEventListener('visibilitychange', () => { if (document.hidden) act('leave', ''); });
  return reader;
}
