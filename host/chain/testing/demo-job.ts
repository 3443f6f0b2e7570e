import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { HoleSheet } from '@trueloop/job/plan'
import { demoRecordings, demoSheet, generate, type Recording, writeWave } from '@trueloop/job/rehearse'

/** Recordings of the demonstration, made once: every test that needs one takes it from here. */
const made = new Map<string, Recording>()

export function demoRecording(file: string): Recording {
  const before = made.get(file)
  if (before !== undefined) return before
  for (const { file: name, scene, seed } of demoRecordings(1)) if (name === file) made.set(file, generate(scene, seed))
  const recording = made.get(file)
  if (recording === undefined) throw new Error(`no recording ${file} in the demonstration`)
  return recording
}

export type Spoil = (recording: Recording) => Recording

/** Writes a recording as a wave file, spoiled as wanted. */
export function writeDemo(path: string, file: string, spoil: Spoil = (recording) => recording): void {
  const { rate_Hz, x, y, index } = spoil(demoRecording(file))
  writeFileSync(path, Buffer.concat([...writeWave(rate_Hz, [x, y, index], 'float32')]))
}

/** The sheet of the demonstration cut down to some of its files, which are written into the folder. */
export function demoJob(folder: string, files: readonly string[]): HoleSheet {
  const sheet = demoSheet()
  for (const file of files) writeDemo(join(folder, file), file)
  return { ...sheet, recordings: sheet.recordings.filter(({ file }) => files.includes(file)) }
}

/** The same signal at another gain. */
export const scaled =
  (factor: number): Spoil =>
  (recording) => ({ ...recording, x: recording.x.map((v) => factor * v), y: recording.y.map((v) => factor * v) })

/** Nothing in either channel. */
export const silent: Spoil = (recording) => scaled(0)(recording)
