// Files that the program made, out of it: shown, printed, shared with other programs of the device, or saved.
'use strict';

const keptMs = 60000;  // how long a download may take to read a file

// Pages made here are shown from an address of ours that only the service worker answers, with a policy of their own: they
// hold their style and pictures in themselves, which the program's policy would refuse. They run no script.
const shownPages = 'tapwright-made';
const pagePolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'self'";

/** Whether this browser shares files at all. */
export function canShareFiles() {
  const trial = new File(['trial'], 'trial.html', {type: 'text/html'});
  return Boolean(navigator.canShare?.({files: [trial]}));
}

/** Does it. Rejects with the browser's own error; AbortError where the person changed their mind. */
export async function useFile({use, name, type, bytes}) {
  const file = new File([bytes], name, {type});
  if (use === 'share' && navigator.canShare?.({files: [file]})) return share(file);
  const isShown = use === 'open' || use === 'print';
  const page = isShown ? await pageOf(file) : null;
  if (page && use === 'print') return print(page, name);
  if (page && window.open(page, '_blank')) return;
  save(file);
}

// The address of a page for another tab or for printing; null where there is no service worker to answer it. Those of
// earlier visits go.
async function pageOf(file) {
  if (!navigator.serviceWorker?.controller || file.type !== 'text/html') return null;
  const cache = await caches.open(shownPages);
  for (const old of await cache.keys()) await cache.delete(old);
  const address = new URL(`made/${crypto.randomUUID()}.html`, document.baseURI).href;
  const headers = {'Content-Type': 'text/html; charset=utf-8', 'Content-Security-Policy': pagePolicy};
  await cache.put(address, new Response(file, {headers}));
  return address;
}

// A browser may have forgotten the touch meanwhile, or share no files of that type: then they are saved.
async function share(file) {
  try {
    await navigator.share({files: [file], title: file.name});
  } catch (error) {
    if (error.name === 'AbortError') throw error;
    save(file);
  }
}

function addressOf(file) {
  const address = URL.createObjectURL(file);
  setTimeout(() => URL.revokeObjectURL(address), keptMs);
  return address;
}

function save(file) {
  const link = document.createElement('a');
  link.href = addressOf(file);
  link.download = file.name;
  link.click();
}

function print(page, name) {
  return new Promise((resolve, reject) => {
    document.getElementById('printed')?.remove();
    const frame = document.createElement('iframe');
    frame.id = 'printed';
    frame.title = name;
    frame.addEventListener('load', () => {
      try {
        frame.contentWindow.print();
        resolve();
      } catch (error) {
        reject(error);
      }
    });
    frame.src = page;
    document.body.append(frame);
  });
}
