/**
 * The memory of a Python that has imported the checker, kept in the browser's private file system for the next visit.
 *
 * A file's name has the version of all that made it and the SHA-256 of what is in it, so no other version's is ever loaded,
 * and none that was written in part or has changed. Where the browser has no such file system, nothing is kept.
 */
import { digestOf } from "./digest.mjs";

const FOLDER = "boardwright-memory";
const UNFIT = "unfit";

/** @param {string} version @returns {Promise<Uint8Array | undefined>} */
export async function savedMemory(version) {
  try {
    for await (const [name, file] of (await folder()).entries()) {
      const [of, digest] = name.split(".");
      if (of !== version || digest === UNFIT) continue;
      const memory = await (await file.getFile()).arrayBuffer();
      if ((await digestOf(memory)) === digest) return new Uint8Array(memory);
      await (await folder()).removeEntry(name);
    }
  } catch (error) {
    console.debug(error);
  }
  return undefined;
}

/** Whether there is something of this version, be it unfit. @param {string} version */
export async function hasMemory(version) {
  for await (const name of (await folder()).keys()) if (name.startsWith(`${version}.`)) return true;
  return false;
}

/** Keeps a memory in place of all others. @param {string} version @param {Uint8Array} memory */
export async function saveMemory(version, memory) {
  await write(`${version}.${await digestOf(memory)}`, memory);
}

/** Forgets a memory that did not work here, and that one should be made. @param {string} version */
export async function forgetMemory(version) {
  await write(`${version}.${UNFIT}`, new Uint8Array()).catch((error) => console.debug(error));
}

/** @param {string} name @param {Uint8Array} bytes */
async function write(name, bytes) {
  const files = await folder();
  for await (const other of files.keys()) await files.removeEntry(other);
  const file = await (await files.getFileHandle(name, { create: true })).createSyncAccessHandle();
  try {
    file.write(bytes);
    file.flush();
  } finally {
    file.close();
  }
}

async function folder() {
  return (await navigator.storage.getDirectory()).getDirectoryHandle(FOLDER, { create: true });
}
