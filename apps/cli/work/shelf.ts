import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { sha256 } from '@trueloop/host/hash'
import { memoryShelf, type ResponseTable, type TableShelf } from '@trueloop/job/rehearse'

/** Tables of a field on disk: a derived cache. A file that is missing, cut or of another table is made again, never believed. */
export function diskShelf(home: string): TableShelf {
  const memory = memoryShelf()
  const folder = join(home, 'derived', 'responses')
  const fileOf = (name: string): string => join(folder, `${sha256(name)}.json`)
  return {
    get: (name) => {
      const known = memory.get(name) ?? read(fileOf(name), name)
      if (known !== undefined) memory.put(name, known)
      return known
    },
    put: (name, table) => {
      memory.put(name, table)
      keep(folder, fileOf(name), { name, ...table, re: [...table.re], im: [...table.im] })
    }
  }
}

function read(file: string, name: string): ResponseTable | undefined {
  try {
    const kept = JSON.parse(readFileSync(file, 'utf8')) as Kept
    const count = kept.around.count * kept.along.count
    if (kept.name !== name || kept.re.length !== count || kept.im.length !== count) return undefined
    const { around, along, isAlike, statement, re, im } = kept
    return { around, along, isAlike, statement, re: Float64Array.from(re), im: Float64Array.from(im) }
  } catch {
    return undefined
  }
}

type Kept = Omit<ResponseTable, 're' | 'im'> & {
  readonly name: string
  readonly re: readonly number[]
  readonly im: readonly number[]
}

/** A cache that can't be written costs time and nothing else. */
function keep(folder: string, file: string, kept: Kept): void {
  try {
    mkdirSync(folder, { recursive: true })
    const beside = `${file}.${process.pid}`
    writeFileSync(beside, JSON.stringify(kept))
    renameSync(beside, file)
  } catch {
    return
  }
}
