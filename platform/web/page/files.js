// The private folder of this site (OPFS) for the worker: what platform/web/page_folder.cpp asks for.
//
// Handles are exclusive, so a second tab is refused here. A page that is loaded again may have to wait a moment until the
// worker before it has let go. Where the browser keeps no files (a private window), files are kept in memory and go with
// the page.
'use strict';

const folderName = 'tapwright';
const patienceMs = 2000;
const stepMs = 50;

const pause = ms => new Promise(resolve => setTimeout(resolve, ms));

/** A file in memory, with the methods of a FileSystemSyncAccessHandle. */
class MemoryFile {
  #bytes = new Uint8Array(0);
  getSize() { return this.#bytes.length; }
  flush() {}
  close() {}
  truncate(size) {
    const bytes = new Uint8Array(size);
    bytes.set(this.#bytes.subarray(0, size));
    this.#bytes = bytes;
  }
  read(to, {at}) {
    const part = this.#bytes.subarray(at, at + to.length);
    to.set(part);
    return part.length;
  }
  write(from, {at}) {
    if (at + from.length > this.#bytes.length) this.truncate(at + from.length);
    this.#bytes.set(from, at);
    return from.length;
  }
}

/** Files that live as long as the page. */
class MemoryFolder {
  #files = new Map();
  async open(name) {
    if (!this.#files.has(name)) this.#files.set(name, new MemoryFile());
    return this.#files.get(name);
  }
  async remove(name) { this.#files.delete(name); }
  async list() {
    return [...this.#files].map(([name, file]) => ({name, bytes: file.getSize(), changed: 0}));
  }
  async file(name) {
    const held = this.#files.get(name);
    if (!held) throw new DOMException(name, 'NotFoundError');
    const bytes = new Uint8Array(held.getSize());
    held.read(bytes, {at: 0});
    return new Blob([bytes]);
  }
}

/** The browser's private files. */
class PrivateFolder {
  #folder;
  static async make() {
    const made = new PrivateFolder();
    made.#folder = await (await navigator.storage.getDirectory()).getDirectoryHandle(folderName, {create: true});
    return made;
  }
  async open(name) {
    const file = await this.#folder.getFileHandle(name, {create: true});
    for (let waited = 0; ; waited += stepMs) {
      try {
        return await file.createSyncAccessHandle();
      } catch (error) {
        if (error.name !== 'NoModificationAllowedError' || waited >= patienceMs) throw error;
        await pause(stepMs);
      }
    }
  }
  async remove(name) {
    try {
      await this.#folder.removeEntry(name);
    } catch (error) {
      if (error.name !== 'NotFoundError') throw error;
    }
  }
  async list() {
    const entries = [];
    for await (const [name, entry] of this.#folder.entries())
      if (entry.kind === 'file' && name.endsWith('.tapjob')) {
        const file = await entry.getFile();
        entries.push({name, bytes: file.size, changed: file.lastModified});
      }
    return entries;
  }
  async file(name) { return (await this.#folder.getFileHandle(name)).getFile(); }
}

/** All files of the program, and those a person chose. Questions are answered one after the other. */
export class Files {
  /** Open handles by number: platform/web/page.cpp reads and writes them. */
  handles = new Map();
  #folder = null;
  #lasts = true;
  #open = new Map();  // name -> number
  #chosen = new Map();  // name -> File
  #numbers = 0;
  #queue = Promise.resolve();

  /** Resolves to whether files outlast the page. Call it first. */
  async start() {
    try {
      this.#folder = await PrivateFolder.make();
      // A private window of some browsers only shows at this step that nothing is kept.
      if (!('createSyncAccessHandle' in FileSystemFileHandle.prototype)) throw new Error('no handles');
    } catch {
      this.#folder = new MemoryFolder();
      this.#lasts = false;
    }
    return this.#lasts;
  }

  /** Whether anything is still to be done. */
  pending = 0;

  /** What a question of that kind answers; rejects with the browser's own error. */
  ask(kind, value) {
    const run = () => this.answers[kind](value);
    ++this.pending;
    const answer = this.#queue.then(run).finally(() => { --this.pending; });
    this.#queue = answer.catch(() => {});
    return answer;
  }

  answers = {
    list: async () => ({value: await this.#folder.list()}),
    open: async names => ({value: await this.#openAll(names)}),
    remove: async names => { for (const name of names) await this.#folder.remove(name); return {}; },
    copy: async ({from, to}) => { await this.#copy(await this.file(from), to); return {}; },
    read: async ({name, most}) => {
      const file = await this.file(name);
      if (file.size > most) throw new DOMException(name, 'TooLarge');
      return {bytes: new Uint8Array(await file.arrayBuffer())};
    },
  };

  /** Lets go at once; empty files are deleted when it is their turn. */
  close(names) {
    for (const name of names) {
      const number = this.#open.get(name);
      if (number === undefined) continue;
      const handle = this.handles.get(number);
      const isEmpty = handle.getSize() === 0;
      handle.close();
      this.handles.delete(number);
      this.#open.delete(name);
      if (isEmpty) this.#queue = this.#queue.then(() => this.#folder.remove(name)).catch(() => {});
    }
  }

  /** Takes a file that a person chose or dropped. Returns its name for the program. */
  keep(file) {
    const name = `chosen/${++this.#numbers}/${file.name.replaceAll('/', '-')}`;
    this.#chosen.set(name, file);
    return name;
  }

  async file(name) { return this.#chosen.get(name) || this.#folder.file(name); }

  async #openAll(names) {
    const opened = [];
    try {
      for (const name of names) opened.push(await this.#openOne(name));
    } catch (error) {
      for (const handle of opened) handle.close();
      throw error;
    }
    return opened.map((handle, i) => {
      const number = ++this.#numbers;
      this.handles.set(number, handle);
      this.#open.set(names[i], number);
      return number;
    });
  }

  async #openOne(name) {
    try {
      return await this.#folder.open(name);
    } catch (error) {
      // WebKit's private windows refuse only now. Nothing was written yet, so memory takes over.
      const isOurs = ['NoModificationAllowedError', 'QuotaExceededError', 'NotFoundError'].includes(error.name);
      if (isOurs || this.handles.size > 0 || !this.#lasts) throw error;
      this.#folder = new MemoryFolder();
      this.#lasts = false;
      this.onlyMemory();
      return this.#folder.open(name);
    }
  }

  /** Called when it turns out late that nothing lasts. */
  onlyMemory() {}

  async #copy(file, to) {
    const handle = await this.#folder.open(to);
    try {
      handle.truncate(0);
      let at = 0;
      const reader = file.stream().getReader();
      for (let part = await reader.read(); !part.done; part = await reader.read()) {
        if (handle.write(part.value, {at}) !== part.value.length) throw new DOMException(to, 'QuotaExceededError');
        at += part.value.length;
      }
      handle.flush();
      handle.close();
    } catch (error) {
      handle.close();
      await this.#folder.remove(to);
      throw error;
    }
  }
}
