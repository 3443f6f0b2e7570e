import type { Result } from '@trueloop/ground/refusal'
import type { Page } from '../page.ts'
import { blocksData } from './data.ts'
import { inner, newSetting } from './setting.ts'
import { load, typeset } from './typesetter.ts'

/** A file inside the PDF. */
export interface Attachment {
  /** letters, digits, dot, hyphen, underscore */
  readonly name: string
  readonly mime: string
  readonly bytes: Uint8Array
  readonly description: string
  /** what it is to the print. source: iso19005-3-2012, annex E */
  readonly relationship: 'source' | 'data' | 'alternative' | 'supplement'
}

export interface Print extends Page {
  /** stands on the foot of every page, beside the number of the page */
  readonly foot: string
  /** the moment that the file carries as its time, ISO 8601; one without an offset counts as universal time */
  readonly time: string
  readonly attachments?: readonly Attachment[]
}

/**
 * The page as a tagged PDF, written as PDF/A-3a with its attachments. The same input gives the same bytes, on every
 * computer. Refuses `press/no-typesetter` where the typesetter is not installed.
 */
export async function pdf(print: Print, loading = load): Promise<Result<Uint8Array>> {
  const { attachments = [] } = print
  for (const { name } of attachments) if (!/^[\w][\w.-]*$/.test(name)) throw new Error(`no name for a file: ${name}`)
  const named = attachments.map((one, at) => ({ ...one, file: `attachment-${at}` }))
  return typeset(
    {
      data: { ...dataOf(print), attachments: named.map(({ bytes: _, ...rest }) => rest) },
      files: named.map(({ file, bytes }) => ({ name: file, bytes })),
      time_s: secondsOf(print.time)
    },
    loading
  )
}

function dataOf({ title, blocks, stamp, foot, footer }: Print): object {
  const setting = newSetting()
  const last = footer === undefined ? [] : [{ block: 'paragraph' as const, text: footer }]
  const set = blocksData(setting, [...blocks, ...last])
  const note = setting.missed() === 0 ? [] : blocksData(setting, [{ block: 'paragraph', text: substituted }])
  return {
    title: setting.show(title),
    mark: stamp === undefined ? null : setting.show(stamp),
    foot: setting.text(foot, footRoom),
    contents: blocks.filter((block) => block.block === 'heading' && block.level === 2).length > 1,
    blocks: [...set, ...note],
    symbols: setting.symbols()
  }
}

/** Room beside the number of the page, in ems of its size. */
const footRoom = (inner - 70) / 7.5

const substituted =
  'Characters that the fonts of this print do not have stand in it as their number, such as [U+0301]. The record that is attached has them as they were entered.'

function secondsOf(time: string): number {
  const hasOffset = /(?:Z|[+-]\d\d:?\d\d)$/.test(time)
  return Math.floor(Date.parse(hasOffset ? time : `${time}Z`) / 1000)
}
