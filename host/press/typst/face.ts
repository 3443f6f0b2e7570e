/** What the printer has to know of a font: which characters it has, and how wide they are. */
export interface Face {
  readonly has: (codePoint: number) => boolean
  /** advance width, in ems; of a character that it lacks, that of its empty box */
  readonly advance: (codePoint: number) => number
}

/**
 * Reads the characters and widths of an OpenType font file. A font without a Unicode table of format 4 or 12 is a
 * wrong package and throws. source: opentype-1-9, cmap, head, hhea, hmtx
 */
export function faceOf(bytes: Uint8Array): Face {
  const data = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const tables = tablesOf(data)
  const perEm = data.getUint16(at(tables, 'head') + 18)
  const metrics = data.getUint16(at(tables, 'hhea') + 34)
  const glyphs = glyphsOf(data, at(tables, 'cmap'))
  const widths = at(tables, 'hmtx')
  const width = (glyph: number): number => data.getUint16(widths + 4 * Math.min(glyph, metrics - 1)) / perEm
  return {
    has: (codePoint) => (glyphs.get(codePoint) ?? 0) > 0,
    advance: (codePoint) => width(glyphs.get(codePoint) ?? 0)
  }
}

type Tables = ReadonlyMap<string, number>

function tablesOf(data: DataView): Tables {
  const count = data.getUint16(4)
  return new Map(
    Array.from({ length: count }, (_, index) => {
      const record = 12 + 16 * index
      const tag = String.fromCharCode(...[0, 1, 2, 3].map((byte) => data.getUint8(record + byte)))
      return [tag, data.getUint32(record + 8)]
    })
  )
}

function at(tables: Tables, tag: string): number {
  const offset = tables.get(tag)
  if (offset === undefined) throw new Error(`a font without a table "${tag}"`)
  return offset
}

/** Glyph numbers by code point. The Unicode tables of one font agree; the last one holds the most. */
function glyphsOf(data: DataView, cmap: number): ReadonlyMap<number, number> {
  const glyphs = new Map<number, number>()
  for (let index = 0; index < data.getUint16(cmap + 2); index++) {
    const record = cmap + 4 + 8 * index
    const platform = data.getUint16(record)
    const table = cmap + data.getUint32(record + 4)
    const format = data.getUint16(table)
    if ((platform === 0 || platform === 3) && format === 4) segments(data, table, glyphs)
    if ((platform === 0 || platform === 3) && format === 12) groups(data, table, glyphs)
  }
  if (glyphs.size === 0) throw new Error('a font without a Unicode table of format 4 or 12')
  return glyphs
}

function segments(data: DataView, table: number, glyphs: Map<number, number>): void {
  const double = data.getUint16(table + 6)
  for (let segment = 0; segment < double; segment += 2) {
    const last = data.getUint16(table + 14 + segment)
    const first = data.getUint16(table + 16 + double + segment)
    for (let code = first; code <= last && code < 0xffff; code++) {
      glyphs.set(code, glyphInSegment(data, { table, double, segment, first, code }))
    }
  }
}

interface InSegment {
  readonly table: number
  readonly double: number
  readonly segment: number
  readonly first: number
  readonly code: number
}

/** A segment gives its glyphs by a difference, or by a list that lies as far behind its own entry as the entry says. */
function glyphInSegment(data: DataView, { table, double, segment, first, code }: InSegment): number {
  const delta = data.getUint16(table + 16 + 2 * double + segment)
  const place = table + 16 + 3 * double + segment
  const offset = data.getUint16(place)
  if (offset === 0) return (code + delta) & 0xffff
  const glyph = data.getUint16(place + offset + 2 * (code - first))
  return glyph === 0 ? 0 : (glyph + delta) & 0xffff
}

function groups(data: DataView, table: number, glyphs: Map<number, number>): void {
  for (let group = 0; group < data.getUint32(table + 12); group++) {
    const record = table + 16 + 12 * group
    const [first, last] = [data.getUint32(record), data.getUint32(record + 4)]
    for (let code = first; code <= last; code++) glyphs.set(code, data.getUint32(record + 8) + code - first)
  }
}
