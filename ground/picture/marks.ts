/** What a drawing is made of. Lengths in px of the drawing, x to the right, y down. */

export type Point = readonly [x: number, y: number]

export interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** A tone has a name, so that a page can give it another color at night and a printer none. */
export type Tone = 'ink' | 'soft' | 'faint' | 'accent' | 'amber' | 'red' | 'paper' | 'tint' | 'tint-2'

export interface Stroke {
  readonly tone: Tone
  readonly width: number
  readonly dash?: string
}

export interface PathMark {
  readonly mark: 'path'
  readonly points: readonly Point[]
  readonly closed?: boolean
  readonly stroke?: Stroke
  readonly fill?: Tone
}

export interface CircleMark {
  readonly mark: 'circle'
  readonly at: Point
  readonly radius: number
  readonly stroke?: Stroke
  readonly fill?: Tone
}

export interface TextMark {
  readonly mark: 'text'
  readonly at: Point
  readonly text: string
  readonly size?: number
  readonly anchor?: 'start' | 'middle' | 'end'
  readonly tone?: Tone
  /** degrees, clockwise */
  readonly turn?: number
  readonly bold?: boolean
  /** a rim of paper, for text that stands on a picture */
  readonly rim?: boolean
}

/** Diagonal lines over a box, clipped to it. */
export interface HatchMark {
  readonly mark: 'hatch'
  readonly box: Box
  readonly tone: Tone
  readonly gap?: number
}

/** A picture of cells, as a data address, stretched over a box without smoothing. */
export interface RasterMark {
  readonly mark: 'raster'
  readonly box: Box
  readonly href: string
}

/** Marks of which only what lies in the box is seen. Their coordinates are those of the drawing. */
export interface ClipMark {
  readonly mark: 'clip'
  readonly box: Box
  readonly marks: readonly Mark[]
}

export type Mark = PathMark | CircleMark | TextMark | HatchMark | RasterMark | ClipMark

/** A whole drawing. `description` says in words what it shows, for those who can't see it. */
export interface Drawing {
  readonly width: number
  readonly height: number
  readonly description: string
  readonly marks: readonly Mark[]
}

export const line = (from: Point, to: Point, stroke: Stroke): Mark => ({ mark: 'path', points: [from, to], stroke })

/** The outline of a box, for a path. */
export const corners = ({ x, y, width, height }: Box): readonly Point[] => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height]
]
