import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from './codes.ts'
import { checkResponse, type ResponseDocument, type ResponseRatio, type ResponseStudy } from './ratio/index.ts'
import type { HoleSheet, Sheet } from './sheet.ts'
import { pathSteps, pathText } from './where.ts'

/** Documents of how cracks answer, as a job sheet has them: in the sheet itself, or by the names of their files. */

const lists = { response_ratios: 'response-ratio/1', response_studies: 'response-study/1' } as const

export type ResponseList = keyof typeof lists

/** A place of a sheet where the name of a file stands for a document. */
export interface NamedDocument {
  readonly list: ResponseList
  readonly index: number
  readonly file: string
  /** form that the document has to say it has */
  readonly form: (typeof lists)[ResponseList]
}

/** Files that have to be read before the sheet is whole. */
export const namedDocuments = (sheet: Sheet): readonly NamedDocument[] =>
  'holes' in sheet
    ? (Object.keys(lists) as ResponseList[]).flatMap((list) =>
        (sheet[list] ?? []).flatMap((one, index) =>
          typeof one === 'string' ? [{ list, index, file: one, form: lists[list] }] : []
        )
      )
    : []

/** The sheet with a document in the place of its file's name. */
export const withDocument = (sheet: HoleSheet, at: NamedDocument, document: ResponseDocument): HoleSheet => ({
  ...sheet,
  [at.list]: (sheet[at.list] ?? []).map((one, index) => (index === at.index ? document : one))
})

export interface Responses {
  readonly ratios: readonly ResponseRatio[]
  readonly studies: readonly ResponseStudy[]
}

/** The documents of a sheet whose files were read. A name that still stands there is a wrong program and throws. */
export function responsesOf(sheet: Sheet): Responses {
  if (!('holes' in sheet)) return { ratios: [], studies: [] }
  const { response_ratios: ratios = [], response_studies: studies = [] } = sheet
  return { ratios: ratios.map(read), studies: studies.map(read) }
}

function read<Document extends ResponseDocument>(one: string | Document): Document {
  if (typeof one === 'string') throw new Error(`${one} has not been read into its sheet`)
  return one
}

/** What only the documents themselves show, and names that stand twice: a size says by its document's name what it rests on. */
export function checkDocuments(sheet: HoleSheet): readonly Refusal[] {
  const all = (Object.keys(lists) as ResponseList[]).flatMap((list) =>
    (sheet[list] ?? []).flatMap((one, index) => (typeof one === 'string' ? [] : [{ list, index, one }]))
  )
  const wrong = all.flatMap(({ list, index, one }) =>
    checkResponse(one).map((refusal) => {
      const path = pathText([list, index, ...pathSteps(refusal.where?.path ?? '')])
      return { ...refusal, where: { ...refusal.where, path } }
    })
  )
  const doubled = all.filter(({ one }, at) => all.slice(0, at).some((before) => before.one.name === one.name))
  return [...wrong, ...doubled.map(({ list, index, one }) => twice(one.name, pathText([list, index, 'name'])))]
}

const twice = (name: string, path: string): Refusal =>
  refuse('plan/double-name', {
    found: `the name "${name}" again`,
    needed: 'a name of its own for each document',
    remedy: 'rename one of the two or remove it',
    where: { path }
  })

/** A file that is no document of the form its list asks for. */
export const notTheForm = ({ list, index, file, form }: NamedDocument, found: string): Refusal =>
  refuse('plan/document-not-read', {
    found: `${file}: ${found}`,
    needed: `a document that says trueloop: ${form}`,
    remedy: 'name the right file, or put it into the other list',
    where: { path: pathText([list, index]) }
  })
