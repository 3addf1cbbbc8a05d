// Packs the folder for a host:  node pack.mjs FOLDER SOURCE...
//
// A SOURCE is a file, or a folder of which every file is meant; all end up side by side in FOLDER, which holds nothing
// else afterwards. Scripts come without comments and with short names (terser), JSON without spaces. service_worker.js gets its
// first line: the hash of each file, and the version, which is a hash of those.
import {createHash} from 'node:crypto';
import * as fs from 'node:fs';
import {createRequire} from 'node:module';
import * as path from 'node:path';
import {gzipSync} from 'node:zlib';

const {minify} = createRequire(import.meta.url)('terser');  // where NODE_PATH says
const notCached = ['service_worker.js', 'headers.txt'];  // the browser keeps the one, the host reads the other

function filesOf(source) {
  if (!fs.statSync(source).isDirectory()) return [source];
  return fs.readdirSync(source).map(name => path.join(source, name));
}

async function small(name, bytes) {
  if (name.endsWith('.json')) return Buffer.from(JSON.stringify(JSON.parse(bytes)));
  if (!name.endsWith('.js')) return bytes;
  // The service worker is the one script that is no module: its names are the worker's own.
  const {code} = await minify(bytes.toString(), {module: name !== 'service_worker.js', ecma: 2020, compress: {passes: 2}});
  return Buffer.from(code);
}

// Name -> bytes, in the order of names.
async function readAll(sources) {
  const files = new Map();
  for (const file of sources.flatMap(filesOf)) {
    const name = path.basename(file);
    if (files.has(name)) throw new Error(`pack: two files are called ${name}; one of them is ${file}. Rename one.`);
    files.set(name, await small(name, fs.readFileSync(file)));
  }
  return new Map([...files].sort(([a], [b]) => (a < b ? -1 : 1)));
}

function contentsOf(files) {
  const integrities = {};
  for (const [name, bytes] of files)
    if (!notCached.includes(name)) integrities[name] = 'sha256-' + createHash('sha256').update(bytes).digest('base64');
  const version = createHash('sha256').update(JSON.stringify(integrities)).digest('hex').slice(0, 16);
  return {version, files: integrities};
}

const [folder, ...sources] = process.argv.slice(2);
const files = await readAll(sources);
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
