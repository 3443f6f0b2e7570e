import { readFile, stat } from 'node:fs/promises'
import type { Refusal, Result } from '@trueloop/ground/refusal'
import { refuse } from './codes.ts'

/** Largest sheet that is read, bytes: two hundred thousand recordings stay far below it. */
const mostBytes = 64 * 1024 * 1024

/** The text of a file. Refuses sheet/no-file, sheet/too-large, sheet/not-text. */
export async function textOf(path: string): Promise<Result<string>> {
  let bytes: Uint8Array
  try {
    const { size } = await stat(path)
    if (size > mostBytes) return tooLarge(path, size)
    bytes = await readFile(path)
  } catch (error) {
    return noFile(path, error)
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return notText(path)
  }
}

const noFile = (file: string, error: unknown): Refusal =>
  refuse('sheet/no-file', {
    found: (error as NodeJS.ErrnoException).code === 'ENOENT' ? 'no such file' : String((error as Error).message),
    needed: 'a job sheet that can be read',
    remedy: 'correct the path; `trueloop rehearse` makes a sample with its recordings',
    where: { file }
  })

const tooLarge = (file: string, size: number): Refusal =>
  refuse('sheet/too-large', {
    found: `${size} bytes`,
    needed: `a job sheet of at most ${mostBytes} bytes`,
    remedy: 'name the job sheet, not a recording',
    where: { file }
  })

const notText = (file: string): Refusal =>
  refuse('sheet/not-text', {
    found: 'bytes that are no UTF-8 text',
    needed: 'a job sheet, YAML or JSON in UTF-8',
    remedy: 'save it as UTF-8, or name the job sheet instead of a recording',
    where: { file }
  })
