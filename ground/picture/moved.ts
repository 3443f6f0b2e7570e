import type { Box, Mark, Point } from './marks.ts'

/** Where a small drawing goes in a larger one: its origin there, and how many times larger it is drawn. */
export interface Moving {
  readonly to: Point
  readonly scale: number
}

/** Marks of a small drawing in the coordinates of a larger one. Widths of lines and sizes of letters stay. */
export function moved(marks: readonly Mark[], { to: [left, top], scale }: Moving): readonly Mark[] {
  const point = ([x, y]: Point): Point => [left + scale * x, top + scale * y]
  const area = ({ x, y, width, height }: Box): Box => ({
    ...{ x: left + scale * x, y: top + scale * y },
    ...{ width: scale * width, height: scale * height }
  })
  const one = (mark: Mark): Mark => {
    switch (mark.mark) {
      case 'path':
        return { ...mark, points: mark.points.map(point) }
      case 'circle':
        return { ...mark, at: point(mark.at), radius: scale * mark.radius }
      case 'text':
        return { ...mark, at: point(mark.at) }
      case 'hatch':
      case 'raster':
        return { ...mark, box: area(mark.box) }
      case 'clip':
        return { ...mark, box: area(mark.box), marks: mark.marks.map(one) }
    }
  }
  return marks.map(one)
}
