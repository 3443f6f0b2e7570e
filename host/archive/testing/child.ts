import { isRefusal } from '@trueloop/ground/refusal'
import { examined, kept, opened, rechecked } from '@trueloop/job/record/testing'
import { type Archive, openArchive } from '../index.ts'

/**
 * A program that keeps on writing until it is killed: three entries a batch and an original a round. A line on standard
 * output says what has been acknowledged.
 */
const [, , folder = '', job = ''] = process.argv
const opened_ = await openArchive(folder)
if (isRefusal(opened_)) throw new Error(opened_.code)
const archive: Archive = opened_
const tell = (line: string) => process.stdout.write(`${line}\n`)

async function* original(round: number): AsyncGenerator<Uint8Array> {
  for (let piece = 0; piece < 40; piece++) yield new Uint8Array(5000).fill(round * 31 + piece)
}

let count = 0
async function add(entries: Parameters<Archive['append']>[2]): Promise<void> {
  const rows = await archive.append(job, count, entries)
  if (isRefusal(rows)) throw new Error(rows.code)
  count += rows.length
  tell(`rows ${rows.map(({ id }) => JSON.stringify(id)).join(' ')}`)
}

await add([opened(job, ['1']), kept('r0', { of: 'reference' }), kept('h0', { of: 'hole', name: '1' })])
for (let round = 0; ; round++) {
  const original_ = await archive.keepOriginal(original(round))
  if (isRefusal(original_)) throw new Error(original_.code)
  tell(`original ${original_.sha256}`)
  const name = `${job} ${round}`
  await add([kept(name, { of: 'hole', name: '1' }), examined(name, '1', 'r0'), rechecked(name, 'r0', true)])
}
