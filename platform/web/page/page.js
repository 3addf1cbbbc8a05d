// The page: a canvas that the program's worker draws on, and everything only a page can do: pointers, the keyboard of
// the device, choosing files, the clipboard. What each is about stands in its own module.
'use strict';

import {compiledProgram} from './program.js';
import {listenToPointers} from './pointers.js';
import {TextField} from './text_field.js';
import {Chooser} from './chooser.js';
import {attachDevice} from './device.js';
import {offerUpdates} from './offer.js';
import {canShareFiles, forgetSheets, useFiles} from './outbox.js';
import {textScale, watchRoom} from './room.js';
import {sentence} from './sentences.js';

const mostScale = 3;  // a finer picture is no better to the eye and costs frames
const canvas = document.getElementById('canvas');
const stage = document.getElementById('stage');  // the canvas, and over it what a screen reader finds there
const worker = new Worker('worker.js', {type: 'module'});
const program = compiledProgram('app.wasm');
const post = (message, transfer = []) => worker.postMessage(message, transfer);
const scale = () => Math.min(devicePixelRatio || 1, mostScale);
const probe = document.getElementById('probe');
const size = () => ({width: canvas.clientWidth, height: canvas.clientHeight, scale: scale(), text: textScale(probe)});
const night = matchMedia('(prefers-color-scheme: dark)');

// ---- what tests and other modules ask of the program -----------------------------------------------------

const answers = new Map();
let questions = 0;
const call = (name, given) => new Promise(resolve => {
  answers.set(++questions, resolve);
  post({kind: 'call', number: questions, name, given});
});

let start;
const started = new Promise(resolve => { start = resolve; });

window.tapwright = {
  /** Everything on the screen, as `tapwright --marks` writes it. */
  marks: () => call('marks'),
  /** Resolves when nothing is left to draw or to write. */
  settled: () => call('settled'),
  /** Of frames and changes, in milliseconds. */
  figures: () => call('figures'),
  started,
  call,
};

// ---- what the worker says --------------------------------------------------------------------------------

export const listeners = new Map();  // kind -> functions

/** Calls `hear` with each message of that kind. */
export function listen(kind, hear) {
  listeners.set(kind, [...(listeners.get(kind) || []), hear]);
}

worker.onmessage = ({data: {kind, value}}) => { for (const hear of listeners.get(kind) || []) hear(value); };
worker.onerror = event => {
  event.preventDefault();
  console.error(event.message, event.filename, event.lineno);
  notify('stopped');
};

function notify(name) { say(sentence(name)); }

function say(text) {
  const notice = document.getElementById('notice');
  notice.textContent = text;
  notice.hidden = false;
}

listen('returned', ({number, value}) => {
  answers.get(number)(value);
  answers.delete(number);
});
listen('started', () => {
  performance.mark('tapwright:started');
  start();
});
listen('first_frame', at => performance.mark('tapwright:first-frame', {startTime: at - performance.timeOrigin}));
listen('saved', ({ms}) => performance.measure('tapwright:saved', {start: Math.max(0, performance.now() - ms), duration: ms}));
// Once there is something to lose, the browser is asked to keep it; some refuse, so copies are offered too.
let isAsked = false;
listen('saved', () => {
  if (!isAsked) navigator.storage?.persist?.().catch(() => {});
  isAsked = true;
});
listen('ask', ({number, value}) => useFiles(value).then(
  () => post({kind: 'answer', number, trouble: ''}),
  error => post({kind: 'answer', number, trouble: error.name || 'UnknownError'})));
listen('refused', say);
listen('failed', notify);
listen('log', text => console.warn(text));
listen('title', text => { document.title = text; });
listen('copy', text => { navigator.clipboard?.writeText(text).catch(() => {}); });

// ---- what happens to the page ----------------------------------------------------------------------------

const field = new TextField(document.getElementById('field'), post);
const chooser = new Chooser(post);
let areas = [];
listen('areas', now => { areas = now; });
listen('choose', ({purpose}) => chooser.wanted(purpose));

const areaAt = (x, y) => areas.find(area =>
  x >= area.x && y >= area.y && x < area.x + area.width && y < area.y + area.height);

listenToPointers(stage, scale, post, (x, y) => {
  const area = areaAt(x, y);
  if (!area || area.kind === 'text' || area.kind === 'number') return field.touched(area);
  chooser.touched(area.purpose);
});
field.listenToKeys(event => reader.keepsKey(event));

// ---- what the device has besides -------------------------------------------------------------------------

const reader = attachDevice({
  stage, root: document.getElementById('reader'), marks: () => call('marks'), post, listen, scale,
});
/** Resolves when a screen reader would hear what is on the screen now. */
window.tapwright.read = () => reader.read();

addEventListener('focus', () => post({kind: 'focus', has: true}));
addEventListener('blur', () => post({kind: 'focus', has: false}));
document.addEventListener('visibilitychange', () => post({kind: 'hidden', hidden: document.hidden}));
night.addEventListener('change', () => post({kind: 'night', night: night.matches}));
stage.addEventListener('dragover', event => event.preventDefault());
stage.addEventListener('drop', event => {
  event.preventDefault();
  if (event.dataTransfer.files.length) post({kind: 'dropped', list: [...event.dataTransfer.files]});
});

// ---- the start -------------------------------------------------------------------------------------------

forgetSheets();
const offscreen = canvas.transferControlToOffscreen?.();
if (offscreen) {
  post({kind: 'start', canvas: offscreen, ...size(), night: night.matches, language: navigator.language,
    canShare: canShareFiles()}, [offscreen]);
  program.then(module => post({kind: 'program', module}), error => { console.error(error); notify('not_loaded'); });
  const tellSize = () => post({kind: 'size', ...size()});
  new ResizeObserver(tellSize).observe(canvas);
  watchRoom(probe, tellSize);
} else {
  notify('no_worker');
}
started.then(() => offerUpdates(document.getElementById('offer'), window.tapwright.settled));
const example = new URLSearchParams(location.search).get('example');
if (example !== null) started.then(() => call('example', 'example.json'));
