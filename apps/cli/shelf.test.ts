/** Oracle: what was put on the shelf, and files that are spoiled on purpose. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { ResponseTable } from '@trueloop/job/rehearse'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { diskShelf } from './work/shelf.ts'

let home = ''
beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), 'trueloop-shelf-'))
})
afterEach(() => rmSync(home, { recursive: true, force: true }))

const table: ResponseTable = {
  around: { count: 2, step_m: 1e-4 },
  along: { count: 3, step_m: 1e-4, first_m: 0 },
  isAlike: true,
  re: Float64Array.of(0, 0.1, 1 / 3, Math.PI, -1e-12, 7),
  im: Float64Array.of(1, 2, 3, 4, 5, Number.MIN_VALUE),
  statement: { modeled: [], notModeled: [], check: 'none', scale: 'none' } as never
}
const only = () => join(home, 'derived', 'responses', readdirSync(join(home, 'derived', 'responses'))[0]!)

describe('tables on disk', () => {
  it('come back to the bit for another program, under their name alone', () => {
    diskShelf(home).put('a', table)
    expect(diskShelf(home).get('a')).toEqual(table)
    expect(diskShelf(home).get('b')).toBeUndefined()
  })

  it('are not believed where they are cut, short or of another name', () => {
    diskShelf(home).put('a', table)
    const whole = readFileSync(only(), 'utf8')
    for (const spoiled of [
      whole.slice(0, 80),
      whole.replace('"name":"a"', '"name":"c"'),
      whole.replace('"count":3', '"count":4')
    ]) {
      writeFileSync(only(), spoiled)
      expect(diskShelf(home).get('a')).toBeUndefined()
    }
  })

  it('may not be writable: that costs time and nothing else', () => {
    const file = join(home, 'file')
    writeFileSync(file, '')
    const shelf = diskShelf(file)
    shelf.put('a', table)
    expect(shelf.get('a')).toEqual(table)
  })
})
