import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { wallClock } from '@trueloop/host/clock'
import { type CapabilityPage, capabilityHtml, capabilityPdf } from '@trueloop/host/press'
import { tableText } from '@trueloop/host/table'
import { standsForReal } from '@trueloop/job/prove'
import { save } from '../saving.ts'
import type { Worked } from './door.ts'

interface Places {
  readonly out?: string
  readonly points?: string
  readonly report?: string
}

interface Written {
  readonly files: readonly string[]
  readonly refusals: readonly Refusal[]
}

/** Writes a result and its report; a file that can't be written is said, the others are there. */
export async function written({ result, blocks, points }: Worked, places: Places): Promise<Written> {
  const page = {
    ...{ name: result.study.name, blocks, result },
    ...{ origin: `data ${result.data.sha256.slice(0, 12)} · method ${result.method} · ${result.program}` },
    ...(standsForReal(result) ? {} : { stamp: 'No real flaws: proves no technique' })
  }
  const { files, refusals } = await writtenPage(page, places)
  if (points === undefined || places.points === undefined) return { files, refusals }
  const saved = await save(places.points, tableText(points))
  return isRefusal(saved) ? { files, refusals: [...refusals, saved] } : { files: [...files, saved], refusals }
}

/** The same for whatever has a page. */
export async function writtenPage(page: CapabilityPage, { out, report }: Places): Promise<Written> {
  const printed = wallClock()
  const files: string[] = []
  const refusals: Refusal[] = []
  const put = async (to: string, content: Result<string | Uint8Array>): Promise<void> => {
    const saved = typeof content !== 'string' && isRefusal(content) ? content : await save(to, content)
    if (isRefusal(saved)) refusals.push(saved)
    else files.push(saved)
  }
  if (out !== undefined) await put(out, `${JSON.stringify(page.result, null, 1)}\n`)
  if (report !== undefined)
    await put(report, /\.pdf$/i.test(report) ? await capabilityPdf(page, printed) : capabilityHtml(page, printed))
  return { files, refusals }
}
