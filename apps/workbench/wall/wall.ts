/**
 * The unrolled signal of a hole as the page has it. Element `[row, column]` lies at the ruler position
 * `rowFrom + row + column / columns` revolutions: the rows are one spiral. Standardized: 1 = the named notch from peak to
 * peak, lift-off along −x; elements that are not there are no numbers.
 */
export interface WallSignal {
  readonly rows: number
  readonly columns: number
  readonly rowFrom: number
  readonly x: Float32Array
  readonly y: Float32Array
}

const headLength = 256

/** Reads the form `wall/1`: a head of 256 bytes of JSON, then x and y. Throws on anything else. */
export function parseWall(buffer: ArrayBuffer): WallSignal {
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 0, headLength))) as WallSignal & {
    readonly form: string
  }
  const { rows, columns, rowFrom } = head
  const count = rows * columns
  if (head.form !== 'wall/1' || buffer.byteLength !== headLength + 8 * count) throw new Error('not a wall of form 1')
  const column = (at: number) => new Float32Array(buffer, headLength + 4 * at * count, count)
  return { rows, columns, rowFrom, x: column(0), y: column(1) }
}

/** The element nearest to a ruler position (revolutions); undefined beyond the ends. */
export function elementAt({ rows, columns, rowFrom }: WallSignal, ruler: number): number | undefined {
  const at = Math.round((ruler - rowFrom) * columns)
  return at >= 0 && at < rows * columns ? at : undefined
}

export interface Trace {
  readonly x: Float32Array
  readonly y: Float32Array
}

/** `half` elements on either side of the one at a ruler position, one after another along the spiral. */
export function traceAround(wall: WallSignal, ruler: number, half: number): Trace {
  const at = elementAt(wall, ruler)
  if (at === undefined) return { x: new Float32Array(0), y: new Float32Array(0) }
  const from = Math.max(0, at - half)
  const to = Math.min(wall.x.length, at + half + 1)
  return { x: wall.x.subarray(from, to), y: wall.y.subarray(from, to) }
}

/** The two elements of a trace that lie farthest apart: their distance is the amplitude from peak to peak. */
export function farthest({ x, y }: Trace): { readonly from: number; readonly to: number; readonly distance: number } {
  let best = { from: 0, to: 0, distance: 0 }
  for (let i = 0; i < x.length; i++)
    for (let k = i + 1; k < x.length; k++) {
      const distance = Math.hypot(x[k]! - x[i]!, y[k]! - y[i]!)
      if (distance > best.distance) best = { from: i, to: k, distance }
    }
  return best
}
