/** A place in the plane that signals count from. */
export interface Null {
  readonly x: number
  readonly y: number
}

/** The last points of a track, by their ruler number. */
export class Ring {
  readonly #size: number
  readonly #x: Float64Array
  readonly #y: Float64Array
  readonly #scale: Float64Array
  readonly #coating: Float64Array
  #first: number | undefined
  #last = Number.NEGATIVE_INFINITY

  constructor(size: number) {
    this.#size = size
    this.#x = new Float64Array(size)
    this.#y = new Float64Array(size)
    this.#scale = new Float64Array(size)
    this.#coating = new Float64Array(size)
  }

  push(at: number, x: number, y: number, scale: number, coating: number): void {
    const i = this.#place(at)
    this.#x[i] = x
    this.#y[i] = y
    this.#scale[i] = scale
    this.#coating[i] = coating
    this.#first ??= at
    this.#last = at
  }

  get last(): number {
    return this.#last
  }

  get firstHeld(): number {
    return Math.max(this.#first ?? 0, this.#last - this.#size + 1)
  }

  holds(at: number): boolean {
    return at >= this.firstHeld
  }

  y(at: number): number {
    return this.#y[this.#place(at)]!
  }

  scale(at: number): number {
    return this.#scale[this.#place(at)]!
  }

  /** Mean over the points from one to another, both counted. */
  mean(from: number, to: number): Null {
    const first = Math.max(from, this.firstHeld)
    let [x, y] = [0, 0]
    for (let at = first; at <= to; at++) {
      x += this.#x[this.#place(at)]!
      y += this.#y[this.#place(at)]!
    }
    const count = to - first + 1
    return { x: x / count, y: y / count }
  }

  /** Copies of the columns from a point on. */
  from(at: number): { x: number[]; y: number[]; scale: number[]; coating: number[] } {
    const places = Array.from({ length: this.#last - at + 1 }, (_, k) => this.#place(at + k))
    const of = (column: Float64Array) => places.map((i) => column[i]!)
    return { x: of(this.#x), y: of(this.#y), scale: of(this.#scale), coating: of(this.#coating) }
  }

  #place(at: number): number {
    const i = at % this.#size
    return i < 0 ? i + this.#size : i
  }
}
