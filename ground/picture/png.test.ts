import { execFileSync } from 'node:child_process'
import zlib from 'node:zlib'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { base64 } from './base64.ts'
import { adler32, crc32, png } from './png.ts'
import { indexOf, paletteOf, rasterHref } from './raster.ts'

const bytes = fc.uint8Array({ maxLength: 300 })

// source: rfc4648, 10 (printed vectors)
describe('base64', () => {
  it.each([
    ['', ''],
    ['f', 'Zg=='],
    ['fo', 'Zm8='],
    ['foo', 'Zm9v'],
    ['foob', 'Zm9vYg=='],
    ['fooba', 'Zm9vYmE='],
    ['foobar', 'Zm9vYmFy']
  ])('of %j', (text, expected) => expect(base64(new TextEncoder().encode(text))).toBe(expected))
  it('is what the platform writes', () =>
    fc.assert(
      fc.property(bytes, (data) => {
        expect(base64(data)).toBe(Buffer.from(data).toString('base64'))
      }),
      { seed: 1 }
    ))
})

describe('checksums', () => {
  it('CRC of "123456789" is the published check value', () =>
    // check value 0xcbf43926 of this CRC, as catalogues print it; zlib agrees
    expect(crc32(new TextEncoder().encode('123456789'))).toBe(0xcbf43926))
  it('CRC is that of zlib', () =>
    fc.assert(
      fc.property(bytes, (data) => {
        expect(crc32(data)).toBe(zlib.crc32(data))
      }),
      { seed: 2 }
    ))
  it('Adler-32 is what zlib writes at the end of a stream', () =>
    fc.assert(
      fc.property(bytes, (data) => {
        const stream = zlib.deflateSync(data)
        expect(adler32(data)).toBe(stream.readUInt32BE(stream.length - 4))
      }),
      { seed: 3 }
    ))
})

/** An outside reader: Python's struct and zlib take the file apart and give back what a viewer would paint. */
const reader = `
import json, struct, sys, zlib
data = sys.stdin.buffer.read()
assert data[:8] == bytes([137, 80, 78, 71, 13, 10, 26, 10])
at, chunks = 8, []
while at < len(data):
    length, kind = struct.unpack(">I4s", data[at:at + 8])
    body = data[at + 8:at + 8 + length]
    assert struct.unpack(">I", data[at + 8 + length:at + 12 + length])[0] == zlib.crc32(kind + body), kind
    chunks.append((kind.decode(), body))
    at += 12 + length
parts = dict(chunks)
width, height, depth, color, packing, filtering, lacing = struct.unpack(">IIBBBBB", parts["IHDR"])
assert (depth, color, packing, filtering, lacing) == (8, 3, 0, 0, 0)
lines = zlib.decompress(parts["IDAT"])
rows = [lines[r * (width + 1):(r + 1) * (width + 1)] for r in range(height)]
assert all(row[0] == 0 for row in rows) and len(lines) == (width + 1) * height
palette, alpha = parts["PLTE"], parts["tRNS"]
paint = [[list(palette[3 * i:3 * i + 3]) + [alpha[i]] for i in row[1:]] for row in rows]
print(json.dumps({"order": [kind for kind, _ in chunks], "paint": paint}))
`

needsTool('numpy', 'png, read by Python', (python) => {
  const read = (file: Uint8Array) =>
    JSON.parse(execFileSync(python, ['-c', reader], { input: file, encoding: 'utf8', maxBuffer: 1e9 })) as {
      order: string[]
      paint: number[][][]
    }

  it('a small one, with a cell seen through', () => {
    const palette = paletteOf('sequential')
    const { order, paint } = read(png({ width: 3, height: 2, indices: Uint8Array.of(0, 1, 254, 255, 7, 100), palette }))
    expect(order).toEqual(['IHDR', 'PLTE', 'tRNS', 'IDAT', 'IEND'])
    const color = (index: number) => [...palette.slice(3 * index, 3 * index + 3), index === 255 ? 0 : 255]
    expect(paint).toEqual([
      [color(0), color(1), color(254)],
      [color(255), color(7), color(100)]
    ])
  })

  it('one of more than one stored block', () => {
    const [width, height] = [331, 300]
    const indices = Uint8Array.from({ length: width * height }, (_, at) => (at * 7919) % 255)
    const palette = paletteOf('signed')
    const { paint } = read(png({ width, height, indices, palette }))
    const painted = paint.flat().map(([red]) => red)
    expect(painted).toEqual([...indices].map((index) => palette[3 * index]))
  })
})

describe('raster', () => {
  it('is a PNG in a data address', () => {
    const href = rasterHref({ rows: 1, columns: 2, values: [0, 1], from: 0, to: 1, table: 'sequential' })
    const file = Buffer.from(href.replace(/^data:image\/png;base64,/, ''), 'base64')
    expect(zlib.inflateSync(file.subarray(file.indexOf('IDAT') + 4, -16))).toEqual(Buffer.from([0, 0, 254]))
  })
  it('refuses cells that are not rows times columns', () =>
    expect(() => png({ width: 2, height: 2, indices: new Uint8Array(3), palette: paletteOf('signed') })).toThrow(
      RangeError
    ))
  it.each([
    [-1, 0],
    [0, 0],
    [0.5, 127],
    [1, 254],
    [9, 254],
    [Number.NaN, 255],
    [Number.POSITIVE_INFINITY, 255]
  ])('a value of %d takes index %d', (value, index) => expect(indexOf(value, 0, 1)).toBe(index))
})
