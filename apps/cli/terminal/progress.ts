/** Progress of long work: one line on stderr that is written over, only where a person looks at it. */

export interface ProgressLine {
  show(text: string): void
  clear(): void
}

const leastInterval_ms = 80

export function progressLine(stream: NodeJS.WriteStream = process.stderr): ProgressLine {
  if (!stream.isTTY) return { show: () => undefined, clear: () => undefined }
  let last = 0
  return {
    show(text) {
      const now = performance.now()
      if (now - last < leastInterval_ms) return
      last = now
      stream.write(`\r\x1b[2K${text.slice(0, Math.max(20, stream.columns - 1))}`)
    },
    clear: () => void stream.write('\r\x1b[2K')
  }
}
