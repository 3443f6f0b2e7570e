import { constants } from 'node:fs'
import * as fs from 'node:fs/promises'
import { dirname } from 'node:path'
import { makeFolder as makeNew } from '../folder/index.ts'

/**
 * What the archive does to files, one call a step, so that a test can stop it at each. `syncFolder` makes a new name in
 * a folder outlive a power cut.
 */
export interface Files {
  makeFolder(path: string): Promise<void>
  create(path: string): Promise<Writing>
  rename(from: string, to: string): Promise<void>
  remove(path: string): Promise<void>
  syncFolder(path: string): Promise<void>
  size(path: string): Promise<number | undefined>
  list(path: string): Promise<readonly string[]>
  read(path: string): AsyncIterable<Uint8Array>
}

export interface Writing {
  write(bytes: Uint8Array): Promise<void>
  sync(): Promise<void>
  close(): Promise<void>
}

export const diskFiles: Files = {
  makeFolder,
  create,
  rename: fs.rename,
  remove: (path) => fs.rm(path, { force: true }),
  syncFolder,
  size,
  list: async (path) => (await fs.readdir(path)).sort(),
  read
}

/** Makes a folder and its parents, and makes each new name durable. */
async function makeFolder(path: string): Promise<void> {
  const first = await makeNew(path)
  if (first === undefined) return
  for (let made = path; made.length >= first.length; made = dirname(made)) await syncFolder(dirname(made))
}

/** Originals are not to be changed: written once, then read-only. */
async function create(path: string): Promise<Writing> {
  const file = await fs.open(path, constants.O_CREAT | constants.O_EXCL | constants.O_WRONLY, 0o444)
  return {
    write: async (bytes) => {
      for (let at = 0; at < bytes.length; ) at += (await file.write(bytes, at)).bytesWritten
    },
    sync: () => file.sync(),
    close: () => file.close()
  }
}

async function syncFolder(path: string): Promise<void> {
  const folder = await openFolder(path)
  try {
    await folder?.sync()
  } finally {
    await folder?.close()
  }
}

/** Windows has no handle of a folder to sync; there the file system's own journal has to do. */
const openFolder = (path: string): Promise<fs.FileHandle | undefined> =>
  process.platform === 'win32' ? Promise.resolve(undefined) : fs.open(path, 'r')

async function size(path: string): Promise<number | undefined> {
  try {
    return (await fs.stat(path)).size
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined
    throw error
  }
}

async function* read(path: string): AsyncIterable<Uint8Array> {
  const file = await fs.open(path, 'r')
  try {
    const block = Buffer.allocUnsafe(1 << 20)
    for (;;) {
      const { bytesRead } = await file.read(block, 0, block.length)
      if (bytesRead === 0) return
      yield new Uint8Array(block.subarray(0, bytesRead))
    }
  } finally {
    await file.close()
  }
}
