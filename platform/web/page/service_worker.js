// Keeps the program on the device, so that it starts without a network, and decides which version of it starts.
//
// The line before these, `const contents`, is written when the folder for a host is packed (platform/web/pack): the
// version, which is a hash of everything in it, and the hash of each file.
//
// A version is fetched whole into a cache of its own, each file held against its hash: a host that is halfway through
// an update gives no mixture. Which version is served stands in a cache of its own too, and only the person's word
// changes it. So this script may replace an older one at any time: what it serves stays what was chosen.
'use strict';
/* global contents */

const prefix = 'tapwright-';
const cacheOf = version => prefix + 'version-' + version;
const choices = prefix + 'choice';
const place = name => new URL(name, self.registration.scope).href;
const choicePlace = () => place('chosen-version');

async function chosenVersion() {
  const choice = await (await caches.open(choices)).match(choicePlace());
  return choice ? choice.text() : null;
}

async function isHere(version) {
  return version !== null && await caches.has(cacheOf(version));
}

// The cache of the version that is served; looked up once, for the start asks for every file.
let serving = null;

async function servedCache() {
  const version = await chosenVersion();
  return await isHere(version) ? caches.open(cacheOf(version)) : null;
}

async function choose(version) {
  await (await caches.open(choices)).put(choicePlace(), new Response(version));
  serving = null;
}

async function dropOthers(version) {
  for (const name of await caches.keys())
    if (name.startsWith(cacheOf('')) && name !== cacheOf(version)) await caches.delete(name);
}

// Fetches this version whole, or leaves nothing of it.
async function fetchAll() {
  const cache = await caches.open(cacheOf(contents.version));
  try {
    await Promise.all(Object.entries(contents.files).map(async ([name, integrity]) => {
      const asked = name === 'index.html' ? './' : name;  // some hosts send who asks for the file to its folder
      const answer = await fetch(place(asked), {cache: 'no-cache', integrity, redirect: 'error'});
      if (!answer.ok) throw new Error(`${name}: ${answer.status}`);
      await cache.put(place(name), answer);
    }));
  } catch (error) {
    await caches.delete(cacheOf(contents.version));
    throw error;
  }
}

async function install() {
  await fetchAll();
  if (!await isHere(await chosenVersion())) await choose(contents.version);
  await self.skipWaiting();
}

// A sheet that the page has laid out to be looked at or printed (outbox.js).
async function laidOut(request) {
  const kept = await (await caches.open(prefix + 'sheets')).match(request.url);
  return kept || new Response('', {status: 404});
}

async function answer(request) {
  const name = request.mode === 'navigate' ? place('index.html') : request.url.split(/[?#]/)[0];
  serving ??= servedCache().catch(error => {
    serving = null;  // asked again with the next file
    throw error;
  });
  const kept = await (await serving)?.match(name);
  if (!kept) serving = null;  // nothing is chosen yet, or the browser has dropped it
  return kept || fetch(request);
}

// What the page asks: which version runs, and whether another is ready; and that the other be chosen.
async function reply(message) {
  if (message.kind === 'take') {
    await choose(contents.version);
    await dropOthers(contents.version);
  }
  return {chosen: await chosenVersion(), newest: contents.version};
}

self.addEventListener('install', event => event.waitUntil(install()));
self.addEventListener('activate', event => event.waitUntil(self.clients.claim()));
self.addEventListener('message', event => event.waitUntil(
  reply(event.data).then(state => event.ports[0].postMessage(state))));
self.addEventListener('fetch', event => {
  const request = event.request;
  const isOurs = request.url.startsWith(self.registration.scope);
  if (request.method !== 'GET' || !isOurs) return;
  event.respondWith(request.url.startsWith(place('sheets/')) ? laidOut(request) : answer(request));
});
