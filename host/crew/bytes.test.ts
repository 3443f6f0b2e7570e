import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type ByteSource, openSource } from './bytes.ts'

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-bytes-'))
})
afterAll(() => rmSync(folder, { recursive: true }))

function got<T>(result: Result<T>): T {
  if (isRefusal(result)) throw new Error(result.code)
  return result
}

const contentOf = (length: number, seed: number) => Uint8Array.from({ length }, (_, i) => (i * 31 + seed) % 251)

function written(name: string, content: Uint8Array): string {
  const path = join(folder, name)
  writeFileSync(path, content)
  return path
}

/** All of a source, the first `head` bytes at once, then in pieces. */
function readAll(source: ByteSource, head: number, piece: number): number[] {
  const first = got(source.read(head))
  const all = [...first]
  for (;;) {
    const more = got(source.read(piece))
    if (more.length === 0) break
    all.push(...more)
  }
  // those read first hold until the end
  expect([...first]).toEqual(all.slice(0, first.length))
  source.close()
  return all
}

it('files one after the other are read to their ends, into the same blocks', () => {
  for (const [at, length] of [70_000, 10, 0, 65_536, 30_001].entries()) {
    const content = contentOf(length, at)
    const path = written(`${at}`, content)
    expect(readAll(got(openSource({ path, bytes: length })), 20_000, 9000)).toEqual([...content])
  }
})

it('a file that has grown since it was looked at is read to its end, and one that has shrunk as well', () => {
  const content = contentOf(20_000, 3)
  const path = written('changed', content)
  for (const bytes of [0, 5000, 40_000])
    expect(readAll(got(openSource({ path, bytes })), 1 << 20, 7000)).toEqual([...content])
})

it('two files that are open at once do not write over each other', () => {
  const [one, other] = [contentOf(5000, 1), contentOf(5000, 2)]
  const [a, b] = [one, other].map((content, at) => {
    const path = written(`both ${at}`, content)
    return got(openSource({ path, bytes: content.length }))
  }) as [ByteSource, ByteSource]
  const [head, otherHead] = [got(a.read(1000)), got(b.read(1000))]
  const [rest, otherRest] = [got(a.read(4000)), got(b.read(4000))]
  expect([...head, ...rest]).toEqual([...one])
  expect([...otherHead, ...otherRest]).toEqual([...other])
  a.close()
  b.close()
})
