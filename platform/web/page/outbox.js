// Files that the program made, out of it: shown, printed, shared with other programs of the device, or saved.
'use strict';

// A page of the program's own allows no styles inside a page, which a sheet needs. So a sheet is handed to the service
// worker, which shows it under an address and a policy of its own: no script, no address outside.
const sheets = 'tapwright-sheets';
const policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";
const keptMs = 60000;  // how long a download may take to read a file
const betweenMs = 200;  // some browsers drop downloads that begin all at once

/** Whether this browser shares files at all. */
export function canShareFiles() {
  const trial = new File(['trial'], 'trial.html', {type: 'text/html'});
  return Boolean(navigator.canShare?.({files: [trial]}));
}

/**
 * Does it: several files are shared or saved, one is shown or printed. Rejects with the browser's own error; AbortError
 * where the person changed their mind.
 */
export async function useFiles({use, files: made}) {
  const files = made.map(({name, type, bytes}) => new File([bytes], name, {type})), [file] = files;
  if (use === 'share' && navigator.canShare?.({files})) return share(files);
  const address = use === 'open' || use === 'print' ? await laidOut(file) : null;
  if (use === 'open' && address && window.open(address, '_blank')) return;
  if (use === 'print' && address) return print(file, address);
  return save(files);
}

/** Sheets of an earlier visit of this page are nobody's business. */
export function forgetSheets() { globalThis.caches?.delete(sheets).catch(() => {}); }

// The sheet's address, or null where no service worker runs yet: then it is saved, and shown from there.
async function laidOut(file) {
  if (!navigator.serviceWorker?.controller) return null;
  const address = new URL(`sheets/${encodeURIComponent(file.name)}`, location.href).href;
  const headers = {'Content-Type': 'text/html; charset=utf-8', 'Content-Security-Policy': policy};
  await (await caches.open(sheets)).put(address, new Response(file, {headers}));
  return address;
}

// A browser may have forgotten the touch meanwhile, or share no files of that type: then they are saved.
async function share(files) {
  try {
    await navigator.share({files, title: files[0].name});
  } catch (error) {
    if (error.name === 'AbortError') throw error;
    await save(files);
  }
}

async function save(files) {
  for (const file of files) {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(file);
    link.download = file.name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), keptMs);
    if (files.length > 1) await new Promise(resolve => setTimeout(resolve, betweenMs));
  }
}

function print(file, address) {
  return new Promise((resolve, reject) => {
    document.getElementById('printed')?.remove();
    const frame = document.createElement('iframe');
    frame.id = 'printed';
    frame.title = file.name;
    frame.addEventListener('load', () => {
      try {
        frame.contentWindow.print();
        resolve();
      } catch (error) {
        reject(error);
      }
    });
    frame.src = address;
    document.body.append(frame);
  });
}
