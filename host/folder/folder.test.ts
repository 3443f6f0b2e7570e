/** Oracle: what the file system has afterward. */
import { existsSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { makeFolder } from './index.ts'

let folder = ''
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-folder-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

const codeOf = (path: string) =>
  makeFolder(path).then(
    () => 'made',
    ({ code }: NodeJS.ErrnoException) => code
  )

describe('a folder', () => {
  it('is made with all above it, and the highest of them named', async () => {
    expect(await makeFolder(join(folder, 'a', 'b', 'c'))).toBe(join(folder, 'a'))
    expect(statSync(join(folder, 'a', 'b', 'c')).isDirectory()).toBe(true)
    expect(await makeFolder(join(folder, 'a', 'b'))).toBeUndefined()
  })

  it('may be made twice at once', async () => {
    await Promise.all(Array.from({ length: 8 }, () => makeFolder(join(folder, 'x', 'y', 'z'))))
    expect(existsSync(join(folder, 'x', 'y', 'z'))).toBe(true)
  })

  it('is not made where a file lies', async () => {
    writeFileSync(join(folder, 'file'), '')
    expect(await codeOf(join(folder, 'file'))).toBe('EEXIST')
    expect(await codeOf(join(folder, 'file', 'a'))).toBe('ENOTDIR')
  })

  it.skipIf(!existsSync('/proc/self'))('that can be made nowhere is said, and not tried for ever', async () => {
    expect(await codeOf('/proc/trueloop/a/b')).toBe('ENOENT')
  })
})
