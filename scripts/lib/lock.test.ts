import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { withLock } from './lock.mjs'
import { checkNode } from './setup.mjs'

describe('lock', () => {
  let folder = ''
  const said: string[] = []
  const say = (line: string) => void said.push(line)

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'lock-'))
    said.length = 0
  })
  afterEach(() => rmSync(folder, { recursive: true }))

  it('lets one in at a time', async () => {
    const path = join(folder, 'x.lock')
    let inside = 0
    let most = 0
    const work = async () => {
      most = Math.max(most, ++inside)
      await new Promise((resolve) => setTimeout(resolve, 20))
      inside--
    }
    await Promise.all([1, 2, 3].map(() => withLock(path, say, work)))
    expect(most).toBe(1)
    expect(said[0]).toContain(String(process.pid))
    expect(readdirSync(folder)).toEqual([])
  })

  it('is taken over from a process that died, and from one whose number was given anew', async () => {
    const dead = spawnSync(process.execPath, ['-e', '']).pid
    for (const holder of [
      { pid: dead, started: '1' },
      ...(existsSync('/proc/1/stat') ? [{ pid: process.pid, started: '1' }] : [])
    ]) {
      const path = join(folder, 'x.lock')
      writeFileSync(path, JSON.stringify(holder))
      expect(await withLock(path, say, async () => 'done')).toBe('done')
    }
    expect(said).toEqual([])
    expect(readdirSync(folder)).toEqual([])
  })

  it('is given back when the work fails', async () => {
    const path = join(folder, 'x.lock')
    await expect(withLock(path, say, () => Promise.reject(new Error('no room')))).rejects.toThrow('no room')
    expect(existsSync(path)).toBe(false)
  })
})

describe('Node', () => {
  it.each(['20.19.0', '20.20.2', '22.1.0', '24.0.0'])('%s will do', (version) =>
    expect(() => checkNode(version)).not.toThrow()
  )
  it.each(['18.20.0', '20.18.9'])('%s is refused with a remedy', (version) => {
    expect(() => checkNode(version)).toThrow(new RegExp(`found Node ${version}; needed Node 20.19 or newer; install`))
  })
})
