/** Lines of the head, found as bytes and decoded only where looked at. */

export interface Line {
  readonly text: string
  readonly from: number
  /** behind the line end */
  readonly to: number
  /** physical lines in it */
  readonly count: number
}

const CR = 13
const LF = 10

/** The lines of a buffer; ends are CR, LF or CRLF. The last one counts only where `whole` or ended. */
export class Lines {
  private readonly starts: number[] = []
  private readonly bytes: Uint8Array
  private readonly decoder: TextDecoder

  constructor(bytes: Uint8Array, whole: boolean, decoder: TextDecoder) {
    this.bytes = bytes
    this.decoder = decoder
    let start = 0
    for (let at = 0; at < bytes.length; at++) {
      const byte = bytes[at]
      if (byte !== LF && (byte !== CR || bytes[at + 1] === LF)) continue
      this.starts.push(start)
      start = at + 1
    }
    if (whole && start < bytes.length) this.starts.push(start)
    this.starts.push(whole ? bytes.length : start)
  }

  get count(): number {
    return this.starts.length - 1
  }

  at(number: number): Line {
    return this.span(number, 1)
  }

  /** A line and those that follow it as long as a quote is open, ten at most. */
  logical(number: number): Line {
    const first = this.at(number)
    if (!isOpen(first.text)) return first
    for (let count = 2; count <= 10 && number + count <= this.count; count++) {
      const more = this.span(number, count)
      if (!isOpen(more.text)) return more
    }
    return first
  }

  private span(number: number, count: number): Line {
    const from = this.starts[number] as number
    const to = this.starts[number + count] as number
    const raw = this.decoder.decode(this.bytes.subarray(from, to))
    return { text: raw.replace(/[\r\n]+$/, '').replace(/^\ufeff/, ''), from, to, count }
  }
}

const isOpen = (text: string): boolean => text.split('"').length % 2 === 0
