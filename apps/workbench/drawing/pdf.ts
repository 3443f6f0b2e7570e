import { getDocument, PDFWorker } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { bytesAt } from '../asking/client.ts'

/** A PDF of which pages are drawn: by a library of its own, in a worker, with nothing of it run and nothing loaded. */

/** Longer side of a drawn page, px: sharp when it is enlarged to four screens of a tablet. Our own number. */
const longest_px = 4096

export interface Pdf {
  readonly pages: number
  /** Draws a page (from 1) into a canvas; gives its height over its width. */
  draw(page: number, canvas: HTMLCanvasElement, signal: AbortSignal): Promise<number>
  close(): void
}

/** Throws `Refused` and `Unreached`, and an error in words where the file is no PDF that can be drawn. */
export async function openPdf(address: string): Promise<Pdf> {
  const data = new Uint8Array(await bytesAt(address))
  const port = new Worker(new URL('./pdf.worker.ts', import.meta.url), { type: 'module' })
  const loading = getDocument({
    data,
    worker: PDFWorker.create({ port }),
    isEvalSupported: false,
    useSystemFonts: true,
    enableXfa: false
  })
  const document = await loading.promise.catch((error: unknown): never => {
    const words = error instanceof Error ? error.message : String(error)
    throw new Error(`the PDF can not be shown: ${words}`)
  })
  return {
    pages: document.numPages,
    draw: async (number, canvas, signal) => {
      const page = await document.getPage(number)
      const { width, height } = page.getViewport({ scale: 1 })
      const viewport = page.getViewport({ scale: longest_px / Math.max(width, height) })
      if (signal.aborted) return height / width
      canvas.width = Math.round(viewport.width)
      canvas.height = Math.round(viewport.height)
      const drawing = page.render({ canvas, viewport, background: 'white' })
      signal.addEventListener('abort', () => drawing.cancel())
      await drawing.promise.catch((error: unknown) => {
        if (!signal.aborted) throw error
      })
      return height / width
    },
    close: () => void loading.destroy().finally(() => port.terminate())
  }
}
