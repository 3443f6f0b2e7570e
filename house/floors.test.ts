import { describe, expect, it } from 'vitest'
import { brokenFloors, circles, roomCircles } from './floors.ts'
import { codeSources } from './tree.ts'

const file = (path: string, text: string) => ({ path, text })
const broken = (path: string, text: string) => brokenFloors([file(path, text)])

describe('floors of this house', () => {
  const all = codeSources()

  it('has code to look at', () => expect(all.length).toBeGreaterThan(10))
  it('keeps the order of floors and rooms', () => expect(brokenFloors(all)).toEqual([]))
  it('has no circle of files', () => expect(circles(all)).toEqual([]))
  it('has no circle of rooms', () => expect(roomCircles(all)).toEqual([]))
})

describe('the check itself', () => {
  it.each([
    ['an upper floor', 'ground/numerics/a.ts', "import { x } from '@trueloop/job/scan'", 'job lies above ground'],
    ['host from job', 'job/scan/a.ts', "import type { x } from '@trueloop/host/archive'", 'host lies above job'],
    ['a later room', 'job/scan/a.ts', "import { x } from '../signal/index.ts'", 'signal comes after scan'],
    ['a later room by type', 'job/scan/a.ts', "let x: import('../record/index.ts').Record", 'record comes after scan'],
    ['a later room by re-export', 'job/plan/index.ts', "export * from '../scan/index.ts'", 'scan comes after plan'],
    ['a later room, lazily', 'job/plan/a.ts', "await import('../scan/index.ts')", 'scan comes after plan'],
    ['an unknown room', 'job/misc/a.ts', "import { x } from '../scan/index.ts'", 'job/misc has no place'],
    [
      'past an index',
      'job/examine/a.ts',
      "import { x } from '../scan/formats/wav.ts'",
      'goes past the index of job/scan'
    ],
    [
      'past an index by name',
      'host/press/a.ts',
      "import { x } from '@trueloop/job/record/sections'",
      'goes past the index'
    ],
    [
      'past an index in an app',
      'apps/cli/a.ts',
      "import { x } from '@trueloop/host/sheet/parse'",
      'goes past the index'
    ],
    [
      'a path across floors',
      'job/scan/a.ts',
      "import { x } from '../../ground/refusal/index.ts'",
      'across packages by name'
    ],
    ['a name inside a floor', 'job/signal/a.ts', "import { x } from '@trueloop/job/scan'", 'inside a floor by path'],
    [
      'Node below host',
      'job/scan/a.ts',
      "import { readFileSync } from 'node:fs'",
      'node:fs may not be used below host'
    ],
    ['a package below host', 'ground/numerics/a.ts', "import FFT from 'fft.js'", 'fft.js may not be used below host'],
    [
      'house in the product',
      'host/archive/a.ts',
      "import { x } from '../../house/outside.ts'",
      'not part of the product'
    ],
    ['a computed import', 'job/scan/a.ts', 'await import(name)', 'computed']
  ])('finds %s', (_, path, text, why) => expect(broken(path, text)).toEqual([expect.stringContaining(why)]))

  it.each([
    ['job/signal/a.ts', "import { x } from '../scan/index.ts'"],
    ['job/scan/formats/wav.ts', "import { x } from '../segment.ts'"],
    ['job/scan/formats/wav.ts', "import { x } from '../../plan/index.ts'"],
    ['job/scan/a.ts', "import { x } from '@trueloop/ground/refusal'"],
    ['job/plan/a.ts', "import { z } from 'zod'"],
    ['job/scan/a.test.ts', "import { x } from '../rehearse/index.ts'"],
    ['apps/cli/a.ts', "import { x } from './commands/demo.ts'\nimport { y } from '@trueloop/service'"]
  ])('lets %s: %s pass', (path, text) => expect(broken(path, text)).toEqual([]))

  it('finds a circle of files', () => {
    const all = [
      file('job/scan/a.ts', "import { b } from './b.ts'"),
      file('job/scan/b.ts', "import type { c } from './c.ts'"),
      file('job/scan/c.ts', "export * from './a.ts'")
    ]
    expect(circles(all)).toEqual(['job/scan/a.ts -> job/scan/b.ts -> job/scan/c.ts -> job/scan/a.ts'])
    expect(circles(all.slice(1))).toEqual([])
  })

  it('finds a circle of rooms that is none of files', () => {
    const all = [
      file('host/press/index.ts', "import { b } from '../sheet/index.ts'"),
      file('host/sheet/other.ts', "import { c } from '../press/index.ts'")
    ]
    expect(circles(all)).toEqual([])
    expect(roomCircles(all)).toEqual(['host/press -> host/sheet -> host/press'])
  })
})
