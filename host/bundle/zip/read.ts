import { type FileHandle, open } from 'node:fs/promises'
import { isRefusal, located, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Entry, fromFdPromise, type ZipFile } from 'yauzl'
import { type Code, refuse } from '../codes.ts'
import { layoutOf, type Member, type Piece } from './layout.ts'
import { type Claim, claimComplaint, most, nameOf, tooLarge } from './members.ts'

/** A member whose place in the file is known for sure. */
export interface OpenMember extends Member {
  /** its bytes, in pieces */
  pieces(): AsyncIterable<Uint8Array>
}

export interface OpenZip {
  readonly members: readonly OpenMember[]
  close(): Promise<void>
}

/**
 * Opens a ZIP for reading and looks at all of it that is no content: the directory is read by a library of its own, and
 * every header byte is then compared with the one form that a bundle has. Nothing is unpacked to any path, ever.
 * Refuses bundle/unreadable-file, bundle/not-a-zip, bundle/broken-zip, bundle/other-bytes, and what `claimComplaint` does.
 */
export async function openZip(path: string): Promise<Result<OpenZip, Code>> {
  const file = await openFile(path)
  if (isRefusal(file)) return file
  const members = await membersOf(file).catch((error: Error) => broken(error.message))
  if (!isRefusal(members)) return { members, close: () => file.close() }
  await file.close()
  return located(members, { file: path })
}

async function openFile(path: string): Promise<FileHandle | Refusal<Code>> {
  try {
    const file = await open(path, 'r')
    if ((await file.stat()).isFile()) return file
    await file.close()
    return unreadable(path, 'no plain file')
  } catch (error) {
    return unreadable(path, (error as Error).message)
  }
}

async function membersOf(file: FileHandle): Promise<Result<readonly OpenMember[], Code>> {
  const { size } = await file.stat()
  const claims = await claimsOf(file, size)
  if (isRefusal(claims)) return claims
  const members = claims.map((claim) => ({ name: nameOf(claim), bytes: claim.bytes, crc: claim.crc }))
  const { headers, directory, bytes } = layoutOf(members)
  const at = await firstOther(file, [...headers, directory])
  if (at !== undefined) return otherByte(at)
  if (bytes !== size) return otherByte(bytes)
  return members.map((member, index) => ({ ...member, pieces: () => range(file, endOf(headers[index]), member.bytes) }))
}

const endOf = (piece: Piece | undefined): number => (piece === undefined ? 0 : piece.at + piece.bytes.length)

/** What the directory claims, each line looked at before the next is read. */
async function claimsOf(file: FileHandle, size: number): Promise<Result<readonly Claim[], Code>> {
  const zip = await directoryOf(file)
  if (isRefusal(zip)) return zip
  if (zip.entryCount > most.members) return tooLarge(`${zip.entryCount} members`)
  const claims: Claim[] = []
  const before = new Set<string>()
  let sum = 0
  for await (const entry of zip.eachEntry()) {
    const claim = claimFrom(entry)
    const no = claimComplaint(claim, before)
    if (no !== undefined) return no
    sum += claim.bytes
    if (sum > size) return tooLarge(`members of more than ${sum} bytes in a file of ${size}`)
    before.add(nameOf(claim).toLowerCase())
    claims.push(claim)
  }
  return claims
}

async function directoryOf(file: FileHandle): Promise<ZipFile | Refusal<Code>> {
  try {
    return await fromFdPromise(file.fd, { autoClose: false, decodeStrings: false })
  } catch (error) {
    const { buffer } = await file.read(Buffer.alloc(4), 0, 4, 0)
    return buffer.toString('latin1') === 'PK\x03\x04' ? broken((error as Error).message) : notAZip()
  }
}

const claimFrom = (entry: Entry): Claim => ({
  rawName: entry.fileNameRaw,
  flags: entry.generalPurposeBitFlag,
  method: entry.compressionMethod,
  attributes: entry.externalFileAttributes,
  bytes: entry.uncompressedSize,
  crc: entry.crc32
})

/** Place of the first byte that is not the expected one; undefined where all are. */
async function firstOther(file: FileHandle, pieces: readonly Piece[]): Promise<number | undefined> {
  for (const { at, bytes } of pieces) {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(bytes.length), 0, bytes.length, at)
    if (bytesRead === bytes.length && buffer.equals(bytes)) continue
    return at + bytes.findIndex((byte, index) => index >= bytesRead || buffer[index] !== byte)
  }
  return undefined
}

const pieceBytes = 1 << 20

async function* range(file: FileHandle, from: number, count: number): AsyncGenerator<Uint8Array> {
  for (let done = 0; done < count; ) {
    const wanted = Math.min(pieceBytes, count - done)
    const { buffer, bytesRead } = await file.read(Buffer.allocUnsafe(wanted), 0, wanted, from + done)
    if (bytesRead === 0) throw new Error('the file has become shorter while it was read')
    yield buffer.subarray(0, bytesRead)
    done += bytesRead
  }
}

const remedy = 'ask for the bundle again from where it was exported, or export it again; copy it without changing it'

const unreadable = (path: string, found: string) =>
  refuse('bundle/unreadable-file', {
    found,
    needed: 'a file that can be read',
    remedy: 'correct the path or its permissions',
    where: { file: path }
  })

const notAZip = () =>
  refuse('bundle/not-a-zip', {
    found: 'a file that is no ZIP',
    needed: 'a bundle, as export writes it',
    remedy: 'name the file that export wrote'
  })

const broken = (found: string) =>
  refuse('bundle/broken-zip', { found: `a ZIP that is cut off or broken: ${found}`, needed: 'a whole ZIP', remedy })

const otherByte = (byte: number) =>
  refuse('bundle/other-bytes', {
    found: `other bytes than a bundle has from byte ${byte} on, outside of any file in it`,
    needed: 'the one form in which export writes a ZIP: nothing between the parts, nothing after the end',
    remedy,
    where: { byte }
  })
