/** Names and order of the files in a bundle. All are ASCII, lower and upper case never tell two apart. */

export const version = 'bundle/1'

export const names = {
  readMe: 'READ-ME-FIRST.txt',
  job: 'job.json',
  sums: 'SHA256SUMS.txt',
  entries: 'entries/entries.jsonl',
  originalsTable: 'originals/NAMES.txt',
  report: 'reports/report.html',
  pdf: 'reports/report.pdf',
  entrySchema: 'schemas/entry.schema.json',
  sheetSchema: 'schemas/job-sheet.schema.json'
} as const

export const documentName = (hash: string): string => `documents/${hash}.json`
export const originalName = (sha256: string): string => `originals/${sha256}`

/** The hash in the name of a document or an original; undefined for other files. */
export const hashInName = (name: string): string | undefined =>
  /^(?:documents\/([0-9a-f]{64})\.json|originals\/([0-9a-f]{64}))$/.exec(name)?.slice(1).find(Boolean)

const fixed: ReadonlySet<string> = new Set(Object.values(names))

export const isName = (name: string): boolean => fixed.has(name) || hashInName(name) !== undefined

const first: readonly string[] = [names.readMe, names.job, names.sums]

const rank = (name: string): number => (first.includes(name) ? first.indexOf(name) : first.length)

/** First what a person reads first, then by name. */
export const inOrder = <T extends { readonly name: string }>(all: readonly T[]): readonly T[] =>
  [...all].sort((a, b) => rank(a.name) - rank(b.name) || (a.name < b.name ? -1 : 1))
