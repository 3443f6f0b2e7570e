import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Step } from '@trueloop/job/plan'
import { type Document, isAlias, isMap, isNode, isPair, isScalar, isSeq, LineCounter, parseDocument } from 'yaml'
import { refuse } from './codes.ts'

/** A parsed YAML or JSON text that still knows where everything stands. Lines and columns count from 1. */

export interface Position {
  readonly line: number
  readonly column: number
}

export interface SheetDocument {
  readonly value: unknown
  /** where a place stands; of what is not there, the nearest that is */
  positionOf(steps: readonly Step[]): Position
}

/** YAML 1.2, of which JSON is a part. A date stays a text; no tag makes anything else of it. */
export function parseSheetDocument(text: string, file: string): Result<SheetDocument> {
  const counter = new LineCounter()
  const document = parseDocument(text, { lineCounter: counter, prettyErrors: true, strict: true, uniqueKeys: true })
  const [error] = document.errors
  if (error !== undefined) return notYaml(error.message, { file, ...at(counter, error.pos[0]) })
  if (document.contents === null) return empty(file)
  const value = plain(document, file)
  if (isRefusal(value)) return value
  return { value, positionOf: (steps) => at(counter, offsetOf(document, steps)) }
}

const at = (counter: LineCounter, offset: number): Position => {
  const { line, col } = counter.linePos(offset)
  return { line: Math.max(line, 1), column: Math.max(col, 1) }
}

/** Aliases are followed; a text made to grow without end by them is refused by the parser's own limit. */
function plain(document: Document.Parsed, file: string): unknown {
  try {
    return document.toJS({ maxAliasCount: 100 })
  } catch (error) {
    return notYaml(error instanceof Error ? error.message : String(error), { file })
  }
}

const notYaml = (message: string, where: { file: string; line?: number; column?: number }) =>
  refuse('sheet/not-yaml', {
    found: message.split('\n')[0]?.replace(/ at line \d+, column \d+:?$/, '') ?? '',
    needed: 'YAML or JSON',
    remedy: 'correct the text at this place',
    where
  })

const empty = (file: string) =>
  refuse('sheet/empty', {
    found: 'no content',
    needed: 'a job sheet',
    remedy: 'write one; `trueloop rehearse` makes a sample with its recordings',
    where: { file }
  })

type Found = { readonly node: unknown; readonly offset: number }

/** Of a key with a value, the value's offset; of an unknown key, the key's own. */
function offsetOf(document: Document.Parsed, steps: readonly Step[]): number {
  let here: Found = { node: document.contents, offset: offsetOfNode(document.contents) ?? 0 }
  for (const step of steps) {
    const next = child(document, here.node, step)
    if (next === undefined) break
    here = next
  }
  return here.offset
}

function child(document: Document.Parsed, parent: unknown, step: Step): Found | undefined {
  const node = isAlias(parent) ? parent.resolve(document) : parent
  if (isSeq(node)) {
    const item = typeof step === 'number' ? node.items[step] : undefined
    const offset = offsetOfNode(item)
    return offset === undefined ? undefined : { node: item, offset }
  }
  if (!isMap(node)) return undefined
  const pair = node.items.find(({ key }) => isScalar(key) && String(key.value) === String(step))
  if (!isPair(pair)) return undefined
  const offset = offsetOfNode(pair.key)
  return offset === undefined ? undefined : { node: pair.value, offset }
}

const offsetOfNode = (node: unknown): number | undefined => (isNode(node) ? node.range?.[0] : undefined)
