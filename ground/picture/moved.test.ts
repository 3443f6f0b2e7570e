import { describe, expect, it } from 'vitest'
import type { Mark } from './marks.ts'
import { moved } from './moved.ts'

const box = { x: 1, y: 2, width: 3, height: 4 }
const tone = 'ink'

describe('a small drawing moved into a larger one', () => {
  it('keeps its shape: each point, box and radius grows by the scale from the new origin', () => {
    const marks: readonly Mark[] = [
      { mark: 'path', points: [[1, 2]], fill: tone },
      { mark: 'circle', at: [1, 2], radius: 3, fill: tone },
      { mark: 'text', at: [1, 2], text: 'a', size: 9 },
      { mark: 'hatch', box, tone },
      { mark: 'raster', box, href: 'data:' },
      { mark: 'clip', box, marks: [{ mark: 'circle', at: [0, 0], radius: 1, fill: tone }] }
    ]
    const there = { x: 12, y: 24, width: 6, height: 8 }
    expect(moved(marks, { to: [10, 20], scale: 2 })).toEqual([
      { mark: 'path', points: [[12, 24]], fill: tone },
      { mark: 'circle', at: [12, 24], radius: 6, fill: tone },
      { mark: 'text', at: [12, 24], text: 'a', size: 9 },
      { mark: 'hatch', box: there, tone },
      { mark: 'raster', box: there, href: 'data:' },
      { mark: 'clip', box: there, marks: [{ mark: 'circle', at: [10, 20], radius: 2, fill: tone }] }
    ])
  })
})
