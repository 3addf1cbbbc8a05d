// Files that the program made, out of it: shown, printed, shared with other programs of the device, or saved.
'use strict';

const keptMs = 60000;  // how long another tab or a download may take to read a file

/** Whether this browser shares files at all. */
export function canShareFiles() {
  const trial = new File(['trial'], 'trial.html', {type: 'text/html'});
  return Boolean(navigator.canShare?.({files: [trial]}));
}

/** Does it. Rejects with the browser's own error; AbortError where the person changed their mind. */
export async function useFile({use, name, type, bytes}) {
  const file = new File([bytes], name, {type});
  if (use === 'share' && navigator.canShare?.({files: [file]})) return share(file);
  if (use === 'open' && show(file)) return;
  if (use === 'print') return print(file);
  save(file);
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

function show(file) { return Boolean(window.open(addressOf(file), '_blank')); }

function save(file) {
  const link = document.createElement('a');
  link.href = addressOf(file);
  link.download = file.name;
  link.click();
}

function print(file) {
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
    frame.src = addressOf(file);
    document.body.append(frame);
  });
}
