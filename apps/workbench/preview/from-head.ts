import { HEAD_LIMIT } from '@trueloop/job/scan'

/** The first bytes of a stream, and then the whole of it from the first byte on. */
export function fromHead(source: AsyncIterable<Uint8Array>) {
  const before: Uint8Array[] = []
  const rest = source[Symbol.asyncIterator]()
  const gather = async (): Promise<Uint8Array> => {
    let length = 0
    while (length < HEAD_LIMIT) {
      const { done, value } = await rest.next()
      if (done === true) break
      before.push(value)
      length += value.length
    }
    const head = new Uint8Array(length)
    let at = 0
    for (const piece of before) {
      head.set(piece, at)
      at += piece.length
    }
    return head.subarray(0, HEAD_LIMIT)
  }
  async function* pieces(): AsyncGenerator<Uint8Array> {
    yield* before
    for (;;) {
      const { done, value } = await rest.next()
      if (done === true) return
      yield value
    }
  }
  return { head: gather(), pieces }
}
