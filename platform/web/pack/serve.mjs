// Serves the folder for a host on this machine, for trying and for tests:  node serve.mjs FOLDER [PORT]
//
// Only this machine can reach it (127.0.0.1). It sends the headers that FOLDER/headers.txt names, compresses as hosts
// do, and answers GET and HEAD for the files that are in the folder, nothing else. Ctrl-C ends it. PORT 0 takes any
// free port. The first line it prints ends with its address.
import * as fs from 'node:fs';
import * as http from 'node:http';
import * as path from 'node:path';
import {pathToFileURL} from 'node:url';
import {gzipSync} from 'node:zlib';

const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.webmanifest': 'application/manifest+json',
  '.wasm': 'application/wasm',
  '.otf': 'font/otf',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.txt': 'text/plain; charset=utf-8',
};

function headersOf(folder) {
  const lines = fs.readFileSync(path.join(folder, 'headers.txt'), 'utf8').split('\n');
  const headers = {};
  for (const line of lines) {
    if (line === '' || line.startsWith('#')) continue;
    const colon = line.indexOf(': ');
    headers[line.slice(0, colon)] = line.slice(colon + 2);
  }
  return headers;
}

// The name of a file in the folder, or nothing: no folder within it, and nothing outside.
function nameOf(url) {
  const asked = decodeURIComponent(new URL(url, 'http://here').pathname).slice(1) || 'index.html';
  return asked === path.basename(asked) ? asked : '';
}

function answer(folder, headers, request, response) {
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.writeHead(405, headers).end();
    return;
  }
  let bytes;
  let name;
  try {
    name = nameOf(request.url);
    bytes = fs.readFileSync(path.join(folder, name));
  } catch (error) {
    response.writeHead(404, headers).end();
    return;
  }
  const sent = {...headers, 'Content-Type': types[path.extname(name)] || 'application/octet-stream'};
  if (/\bgzip\b/.test(request.headers['accept-encoding'] || '')) {
    bytes = gzipSync(bytes);
    sent['Content-Encoding'] = 'gzip';
  }
  response.writeHead(200, {...sent, 'Content-Length': bytes.length});
  response.end(request.method === 'HEAD' ? undefined : bytes);
}

// Returns: the server, and its address once it listens.
export function serve(folder, port) {
  const server = http.createServer((request, response) => answer(folder, headersOf(folder), request, response));
  return new Promise((done, failed) => {
    server.on('error', failed);
    server.listen(port, '127.0.0.1', () => done({server, address: `http://127.0.0.1:${server.address().port}/`}));
  });
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  const [folder, port] = process.argv.slice(2);
  try {
    const {address} = await serve(folder, Number(port || 8080));
    console.log(`Tapwright is at ${address}`);
  } catch (error) {
    console.error(`serve: ${error.message}. Name another port.`);
    process.exit(1);
  }
}
