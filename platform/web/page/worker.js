// The program's worker: all of Tapwright runs here, and no frame is drawn without a reason. The page (page.js) only
// passes on what happens to it.
'use strict';

import createApp from './app.js';
import {Files} from './files.js';
import {pixelsOf, takenIn} from './photos.js';

const files = new Files();
const early = [];  // what the page said before the program ran
const waiting = [];  // for the program to have nothing left to do
let app = null, canvas = null;
let isStarted = false, isLost = false, isHidden = false;
let scheduled = 0, timer = 0;

const tell = (kind, value) => postMessage({kind, value});

// ---- texts and bytes across to the program ---------------------------------------------------------------

function withBytes(bytes, use) {
  const at = app._malloc(bytes.length || 1);
  app.HEAPU8.set(bytes, at);
  try {
    return use(at, bytes.length);
  } finally {
    app._free(at);
  }
}

function withTexts(texts, use, at = []) {
  if (texts.length === 0) return use(...at);
  const bytes = new TextEncoder().encode(texts[0] + '\0');
  return withBytes(bytes, start => withTexts(texts.slice(1), use, [...at, start]));
}

const read = at => JSON.parse(app.UTF8ToString(at));

// ---- what the program tells and asks ---------------------------------------------------------------------

const lent = new Map();  // number -> bytes of the program's, for a later question
let loans = 0;

function lend(bytes) {
  lent.set(++loans, bytes);
  return loans;
}

function taken(number) {
  const bytes = lent.get(number);
  lent.delete(number);
  return bytes;
}

const told = {
  close: names => files.close(names),
  forget: number => lent.delete(number),
  started: () => { isStarted = true; },
};

function hear(kind, value) {
  if (told[kind]) told[kind](value);
  else tell(kind, value);
}

function answer(number, {trouble = '', value = null, bytes = new Uint8Array(0)}) {
  withTexts([trouble, JSON.stringify(value)], (troubleAt, valueAt) =>
    withBytes(bytes, (at, size) => app._app_answer(number, troubleAt, valueAt, at, size)));
  wake();
}

// What neither the folder nor the decoder answers, the page does.
const asked = {
  photo: async value => takenIn(await files.file(value.name), value),
  pixels: value => pixelsOf(taken(value.lent), value.longest),
  use: ({use, files}) => askPage('use', {use, files: files.map(file => ({...file, bytes: lent.get(file.lent)}))}),
};

const pageAnswers = new Map();
let pageQuestions = 0;
const askPage = (kind, value) => new Promise((resolve, reject) => {
  pageAnswers.set(++pageQuestions, trouble => trouble ? reject({name: trouble}) : resolve({}));
  tell('ask', {number: pageQuestions, kind, value});
});

function ask(number, kind, value) {
  const answered = asked[kind] ? asked[kind](value) : files.ask(kind, value);
  answered.then(
    given => answer(number, given),
    error => answer(number, {trouble: error.name || 'UnknownError'}));
}

// ---- frames ----------------------------------------------------------------------------------------------

function frame() {
  scheduled = 0;
  if (isLost || !isStarted) return;
  clearTimeout(timer);
  timer = 0;
  const next = app._app_frame();
  noteFirstFrame();
  if (next === 0) wake();
  else if (next > 0) timer = setTimeout(wake, next * 1000);
  if (next !== 0) tell('rested');
  if (isSettled()) for (const resolve of waiting.splice(0)) resolve();
}

function wake() {
  if (isHidden) return runHidden();
  if (!scheduled) scheduled = requestAnimationFrame(frame);
}

// A page that is not seen gets no animation frames, and the phone may end it any moment: whatever was touched is carried
// out now.
function runHidden() {
  const most = 60;
  if (!isStarted || isLost) return;
  for (let count = 0; count < most && app._app_frame() === 0; ++count);
  if (isSettled()) for (const resolve of waiting.splice(0)) resolve();
}

const isSettled = () => isStarted && !scheduled && files.pending === 0 && app._app_questions() === 0;

let hadFrame = false;
function noteFirstFrame() {
  if (hadFrame) return;
  hadFrame = true;
  tell('first_frame', performance.timeOrigin + performance.now());
}

// ---- the start -------------------------------------------------------------------------------------------

let takeProgram;
const program = new Promise(resolve => { takeProgram = resolve; });

// What app.js calls instead of fetching the program once more.
function instantiateWasm(imports, ready) {
  program.then(module => WebAssembly.instantiate(module, imports).then(instance => ready(instance, module))).catch(notLoaded);
  return {};
}

function notLoaded(error) {
  logged(String(error));
  tell('failed', 'not_loaded');
}

const bytesOf = async url => new Uint8Array(await (await fetch(url)).arrayBuffer());

// Made while the program is still being compiled: a first context takes the browser a while.
const webGlOf = canvas => canvas.getContext('webgl', {alpha: false, depth: false, stencil: false, antialias: false,
  premultipliedAlpha: false, preserveDrawingBuffer: false, powerPreference: 'low-power'});

async function start(message) {
  canvas = message.canvas;
  setSize(message);
  const webGl = webGlOf(canvas);
  const [module, lasts, ...typefaces] = await Promise.all([
    createApp({webGl, instantiateWasm, tell: hear, ask, lend, handles: files.handles, print: logged, printErr: logged}),
    files.start(), bytesOf('inter-regular.otf'), bytesOf('inter-semibold.otf')]);
  app = module;
  app._app_folder_lasts(lasts ? 1 : 0);
  app._app_can_share(message.canShare ? 1 : 0);
  files.onlyMemory = () => app._app_folder_lasts(0);
  typefaces.forEach((bytes, face) => withBytes(bytes, (at, size) => app._app_typeface(face, at, size)));
  watchContext();
  const hasWebGl = withTexts([message.language], language =>
    app._app_start(canvas.width, canvas.height, message.scale * message.text, message.night ? 1 : 0, language));
  if (!hasWebGl) return tell('failed', 'no_webgl');
  const began = told.started;
  told.started = () => { began(); begin(message); };
}

function begin(message) {
  tell('started');
  for (const one of early.splice(0)) handle(one);
  wake();
}

const logged = text => tell('log', text);

function setSize({width, height, scale}) {
  canvas.width = Math.round(width * scale);
  canvas.height = Math.round(height * scale);
}

// A phone takes the graphics memory of a page in the background, and gives it back later.
function watchContext() {
  canvas.addEventListener('webglcontextlost', event => { event.preventDefault(); isLost = true; });
  canvas.addEventListener('webglcontextrestored', () => {
    isLost = false;
    if (app._app_restored()) wake();
    else tell('failed', 'no_webgl');
  });
}

// ---- what the page says ----------------------------------------------------------------------------------

const heard = {
  pointers: ({list}) => {
    for (const one of list)
      app._app_pointer(one.phase, one.id, one.x, one.y, (one.time - performance.timeOrigin) / 1000, one.touch);
  },
  wheel: ({x, y}) => app._app_wheel(x, y),
  edit: ({back, text}) => withTexts([text], at => app._app_edit(back, at)),
  key: ({code, key, down, held}) => withTexts([code, key], (a, b) => app._app_key(a, b, down ? 1 : 0, held)),
  act: ({what, name, text}) => withTexts([what, name, text], (a, b, c) => app._app_act(a, b, c)),
  focus: ({has}) => app._app_focus(has ? 1 : 0),
  size: message => {
    setSize(message);
    app._app_size(canvas.width, canvas.height, message.scale * message.text);
    if (!isHidden && !isLost) frame();  // at once: a canvas of a new size is empty
  },
  night: ({night}) => app._app_night(night ? 1 : 0),
  hidden: ({hidden}) => {
    isHidden = hidden;
    if (!hidden) return;
    runHidden();
    app._app_hidden();
  },
  answer: ({number, trouble}) => {
    pageAnswers.get(number)(trouble);
    pageAnswers.delete(number);
  },
  chosen: ({purpose, list}) => {
    for (const file of list)
      withTexts([purpose, files.keep(file)], (a, b) => app._app_file_chosen(a, b));
  },
  dropped: ({list}) => withTexts([JSON.stringify(list.map(file => files.keep(file)))], at => app._app_files_dropped(at)),
  call: ({number, name, given}) => {
    Promise.resolve(calls[name](given)).then(value => tell('returned', {number, value}));
  },
};

// What window.tapwright offers (page.js).
const calls = {
  marks: () => read(app._app_marks()),
  figures: () => read(app._app_figures()),
  settled: () => new Promise(resolve => { if (isSettled()) resolve(true); else waiting.push(resolve); }),
  example: async url => {
    if (read(app._app_figures()).batches > 0) return;  // a job is open already
    const json = new TextDecoder().decode(await bytesOf(url));
    withTexts([json, url.split('/').pop()], (a, b) => app._app_import(a, b));
    wake();
  },
  loseContext: async () => {
    const lose = canvas.getContext('webgl').getExtension('WEBGL_lose_context');
    lose.loseContext();
    await new Promise(resolve => setTimeout(resolve, 100));
    lose.restoreContext();
  },
};

const quiet = new Set(['marks', 'figures', 'settled']);  // these touch nothing

function handle(message) {
  heard[message.kind](message);
  if (message.kind !== 'call' || !quiet.has(message.name)) wake();
}

onmessage = ({data}) => {
  if (data.kind === 'start') start(data).catch(notLoaded);
  else if (data.kind === 'program') takeProgram(data.module);
  else if (isStarted) handle(data);
  else early.push(data);
};
