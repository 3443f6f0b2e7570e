import { z } from 'zod'
import { parameter, text } from './parameter.ts'

/** Drawings and photos of the component, and where its places lie on them: so that a person finds the place on the part. */

/** What is shown as an image, by the first bytes of the file. */
export const drawingForms = ['image/png', 'image/jpeg', 'image/svg+xml', 'application/pdf'] as const
export type DrawingForm = (typeof drawingForms)[number]

const share = (from: string) =>
  parameter({
    unit: '1',
    least: 0,
    most: 1,
    help: `Share of the picture ${from}`,
    why: 'beyond it there is no picture'
  })

export const drawingMarkSchema = z.strictObject({
  name: text('Name of the hole, track or loop'),
  x: share('from its left edge'),
  y: share('from its upper edge'),
  page: z.number().int().min(1).max(10_000).default(1).describe('Page, of a PDF with several')
})

export const drawingSchema = z
  .strictObject({
    file: text('File of a drawing or photo, from the folder of the job sheet: PNG, JPEG, SVG or PDF'),
    title: text('What it shows').optional(),
    places: z.array(drawingMarkSchema).max(100_000).default([]).describe('Where places lie on it')
  })
  .describe('A drawing or photo of the component')

/** Bytes that `drawingForm` needs at most. Our own number: a prolog, comments and a document type before the picture. */
export const FORM_BYTES = 4096

const png = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]
const jpeg = [0xff, 0xd8, 0xff]
const pdf = [0x25, 0x50, 0x44, 0x46, 0x2d]

/**
 * The form of a drawing by its first bytes (`FORM_BYTES` of them, or the whole file); undefined where it is none that is
 * shown. PNG by its signature, source: rfc2083, 12.12; JPEG and PDF by theirs (from memory); SVG by its root element.
 */
export function drawingForm(head: Uint8Array): DrawingForm | undefined {
  const begins = (bytes: readonly number[]) => bytes.every((byte, at) => head[at] === byte)
  if (begins(png)) return 'image/png'
  if (begins(jpeg)) return 'image/jpeg'
  if (begins(pdf)) return 'application/pdf'
  return isSvg(head) ? 'image/svg+xml' : undefined
}

function isSvg(head: Uint8Array): boolean {
  let ascii = ''
  for (const byte of head.subarray(0, FORM_BYTES)) if (byte < 128 && byte > 0) ascii += String.fromCharCode(byte)
  return /^<(?:svg:)?svg[\s/>]/.test(afterProlog(ascii))
}

/** What may stand before the root of a document, each with its end. One step after the other: no text takes long. */
const before = [
  ['<?', '?>'],
  ['<!--', '-->'],
  ['<!DOCTYPE', '>']
] as const

function afterProlog(text: string): string {
  const rest = text.trimStart()
  const one = before.find(([begin]) => rest.startsWith(begin))
  if (one === undefined) return rest
  const inside = one[0] === '<!DOCTYPE' ? rest.replace(/^[^>[]*\[[^\]]*\]/, '') : rest
  const end = inside.indexOf(one[1])
  return end < 0 ? '' : afterProlog(inside.slice(end + one[1].length))
}

export type SheetDrawing = z.output<typeof drawingSchema>
export type DrawingMark = z.output<typeof drawingMarkSchema>
