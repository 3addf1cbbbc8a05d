// Packs the folder for a host:  node pack.mjs FOLDER SOURCE...
//
// A SOURCE is a file, or a folder of which every file is meant; what is needed of them ends up side by side in FOLDER,
// which holds nothing else afterwards. A script or style sheet that something starts with (`starts`) comes with all it
// imports in it, without comments and with short names (esbuild): each file more is one more to wait for at the start.
// JSON comes without spaces. service_worker.js gets its first line: the hash of each file, and the version, which is a
// hash of those.
import {execFileSync} from 'node:child_process';
import {createHash} from 'node:crypto';
import * as fs from 'node:fs';
import * as os from 'node:os';
import * as path from 'node:path';
import {gzipSync} from 'node:zlib';

// The form of each: the service worker is the one script that is no module.
const starts = {'page.js': 'esm', 'worker.js': 'esm', 'service_worker.js': 'iife', 'style.css': 'esm'};
const notCached = ['service_worker.js', 'headers.txt'];  // the browser keeps the one, the host reads the other

function filesOf(source) {
  if (!fs.statSync(source).isDirectory()) return [source];
  return fs.readdirSync(source).map(name => path.join(source, name));
}

const isImported = name => /\.(js|css)$/.test(name);
const smallJson = bytes => Buffer.from(JSON.stringify(JSON.parse(bytes)));

// What starts with `name`, with all it imports from beside it.
function bundled(folder, name) {
  return execFileSync('esbuild', [path.join(folder, name), '--bundle', '--minify', `--format=${starts[name]}`, '--target=es2020',
    '--legal-comments=none', '--log-level=warning']);
}

// Name -> bytes, in the order of names.
function readAll(sources) {
  const files = new Map();
  for (const file of sources.flatMap(filesOf)) {
    const name = path.basename(file);
    if (files.has(name)) throw new Error(`pack: two files are called ${name}; one of them is ${file}. Rename one.`);
    files.set(name, fs.readFileSync(file));
  }
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'tapwright-pack-'));
  try {
    for (const [name, bytes] of files) if (isImported(name)) fs.writeFileSync(path.join(folder, name), bytes);
    for (const name of Object.keys(starts)) files.set(name, bundled(folder, name));
  } finally {
    fs.rmSync(folder, {recursive: true});
  }
  return new Map([...files].filter(([name]) => !isImported(name) || starts[name])
    .map(([name, bytes]) => [name, name.endsWith('.json') ? smallJson(bytes) : bytes])
    .sort(([a], [b]) => (a < b ? -1 : 1)));
}

function contentsOf(files) {
  const integrities = {};
  for (const [name, bytes] of files)
    if (!notCached.includes(name)) integrities[name] = 'sha256-' + createHash('sha256').update(bytes).digest('base64');
  const version = createHash('sha256').update(JSON.stringify(integrities)).digest('hex').slice(0, 16);
  return {version, files: integrities};
}

const [folder, ...sources] = process.argv.slice(2);
const files = readAll(sources);
const contents = contentsOf(files);
files.set('service_worker.js', Buffer.concat(
  [Buffer.from(`const contents = ${JSON.stringify(contents)};\n`), files.get('service_worker.js')]));
fs.rmSync(folder, {recursive: true, force: true});
fs.mkdirSync(folder, {recursive: true});
let packed = 0;
for (const [name, bytes] of files) {
  fs.writeFileSync(path.join(folder, name), bytes);
  packed += gzipSync(bytes, {level: 9}).length;
}
console.log(`${folder}: version ${contents.version}, ${files.size} files, ${packed} bytes with gzip.`);
