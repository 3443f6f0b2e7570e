/**
 * The one form in which a bundle's ZIP is written: members stored, none compressed; every header complete where it
 * stands; one fixed time; nothing between the parts and nothing after the end. So the bytes follow from names and
 * contents alone, and a reader can tell any byte that is not as it was written.
 * source: zip-appnote-6-3, 4.3 and 4.5.3
 */

/** A file of the ZIP, as far as its headers tell of it. */
export interface Member {
  /** ASCII */
  readonly name: string
  readonly bytes: number
  readonly crc: number
}

const most16 = 0xffff
const most32 = 0xffff_ffff
const madeByUnix = 3 << 8
const plainVersion = 10
const zip64Version = 45
/** 1980-01-01 00:00, the first moment that the form can tell */
const fixedDate = (1 << 5) | 1
const regularFile = 0o100644

type Field = readonly [bytes: 2 | 4 | 8, value: number]

function packed(fields: readonly Field[], tail: readonly Uint8Array[] = []): Buffer {
  const head = Buffer.alloc(fields.reduce((sum, [bytes]) => sum + bytes, 0))
  let at = 0
  for (const [bytes, value] of fields) {
    if (bytes === 8) head.writeBigUInt64LE(BigInt(value), at)
    else head.writeUIntLE(value, at, bytes)
    at += bytes
  }
  return Buffer.concat([head, ...tail])
}

const nameOf = ({ name }: Member): Buffer => Buffer.from(name, 'latin1')
const isLong = (value: number): boolean => value >= most32
const capped = (value: number): number => Math.min(value, most32)

/** The extra field with the long numbers that don't fit the header; empty where all fit. */
const longNumbers = (values: readonly number[]): Buffer =>
  values.length === 0 ? Buffer.alloc(0) : packed([[2, 1], [2, 8 * values.length], ...values.map((v): Field => [8, v])])

/** What both headers of a member say: version, flags, method, time, date, CRC-32, sizes, length of the name. */
const common = (member: Member, version: number): readonly Field[] => [
  [2, version],
  [2, 0],
  [2, 0],
  [2, 0],
  [2, fixedDate],
  [4, member.crc],
  [4, capped(member.bytes)],
  [4, capped(member.bytes)],
  [2, member.name.length]
]

/** The header that stands before a member's bytes. */
export function localHeader(member: Member): Buffer {
  const extra = longNumbers(isLong(member.bytes) ? [member.bytes, member.bytes] : [])
  const version = extra.length > 0 ? zip64Version : plainVersion
  return packed([[4, 0x04034b50], ...common(member, version), [2, extra.length]], [nameOf(member), extra])
}

/** The line of the directory that points at a member. */
function directoryLine(member: Member, offset: number): Buffer {
  const sizes = isLong(member.bytes) ? [member.bytes, member.bytes] : []
  const extra = longNumbers([...sizes, ...(isLong(offset) ? [offset] : [])])
  const version = extra.length > 0 ? zip64Version : plainVersion
  return packed(
    [
      ...([[4, 0x02014b50], [2, madeByUnix | zip64Version], ...common(member, version)] as const),
      ...([
        [2, extra.length],
        [2, 0],
        [2, 0],
        [2, 0]
      ] as const),
      ...([
        [4, regularFile * 0x1_0000],
        [4, capped(offset)]
      ] as const)
    ],
    [nameOf(member), extra]
  )
}

interface Directory {
  readonly count: number
  readonly bytes: number
  readonly offset: number
}

function ending({ count, bytes, offset }: Directory): Buffer {
  const isLarge = count >= most16 || isLong(bytes) || isLong(offset)
  const short = packed([
    ...([
      [4, 0x06054b50],
      [2, 0],
      [2, 0],
      [2, Math.min(count, most16)],
      [2, Math.min(count, most16)]
    ] as const),
    ...([
      [4, capped(bytes)],
      [4, capped(offset)],
      [2, 0]
    ] as const)
  ])
  return isLarge ? Buffer.concat([longEnding({ count, bytes, offset }), short]) : short
}

const longEnding = ({ count, bytes, offset }: Directory): Buffer =>
  packed([
    ...([
      [4, 0x06064b50],
      [8, 44],
      [2, madeByUnix | zip64Version],
      [2, zip64Version],
      [4, 0],
      [4, 0]
    ] as const),
    ...([
      [8, count],
      [8, count],
      [8, bytes],
      [8, offset]
    ] as const),
    ...([
      [4, 0x07064b50],
      [4, 0],
      [8, offset + bytes],
      [4, 1]
    ] as const)
  ])

/** A run of bytes that the form fixes, at its place in the file. */
export interface Piece {
  readonly at: number
  readonly bytes: Buffer
}

export interface Layout {
  /** the header before each member, in order */
  readonly headers: readonly Piece[]
  /** directory and end */
  readonly directory: Piece
  /** length of the whole file */
  readonly bytes: number
}

/** Where every byte that is no content stands, and what it is. */
export function layoutOf(members: readonly Member[]): Layout {
  const headers: Piece[] = []
  const lines: Buffer[] = []
  let at = 0
  for (const member of members) {
    const bytes = localHeader(member)
    headers.push({ at, bytes })
    lines.push(directoryLine(member, at))
    at += bytes.length + member.bytes
  }
  const directory = Buffer.concat(lines)
  const end = ending({ count: members.length, bytes: directory.length, offset: at })
  const bytes = Buffer.concat([directory, end])
  return { headers, directory: { at, bytes }, bytes: at + bytes.length }
}
