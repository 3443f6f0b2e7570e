import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { HoleSheet } from '@trueloop/job/plan'
import { demoSheet, writeWave } from '@trueloop/job/rehearse'
import { HEAD_LIMIT, mappingOf, openScan, survey } from '@trueloop/job/scan'
import { openHoleReference } from '@trueloop/job/standardize'
import { demoRecording } from '../../chain/testing/demo-job.ts'
import type { Task } from '../index.ts'

/** Scans of the demonstration as tasks, standardized on its own reference scan. */
export function demoTasks(holes: readonly string[]): readonly Task[] {
  const sheet = demoSheet()
  const reference = readable('reference-start.wav')
  const standardization = standardized(sheet, reference)
  const { technique, equipment } = sheet
  return holes.map((id) => {
    const { name, source, mapping, rate_Hz } = readable(`hole-${id}.wav`)
    const hole = sheet.holes.find((one) => one.id === id)
    if (hole === undefined) throw new Error(`no hole ${id} in the demonstration`)
    const common = { technique, equipment, hole, standardization, standardizationName: 'demo', indexed: true }
    return {
      name,
      source,
      mapping,
      recipe: { application: 'fastener hole', input: { ...common, rate_Hz, recording: id } }
    }
  })
}

function readable(name: string) {
  const { rate_Hz, x, y, index } = demoRecording(name)
  const source = new Uint8Array(Buffer.concat([...writeWave(rate_Hz, [x, y, index], 'float32')]))
  const seen = got(survey(source.subarray(0, HEAD_LIMIT), name, source.length))
  return { name, source, rate_Hz, mapping: got(mappingOf(seen, { x: 0, y: 1, index: 2 })) }
}

function standardized(
  { technique, equipment, ...sheet }: HoleSheet,
  { name, source, mapping }: ReturnType<typeof readable>
) {
  const reader = got(openScan(source.subarray(0, HEAD_LIMIT), name, mapping, source.length))
  const { rate_Hz } = reader
  const standard = sheet.reference_standard
  const run = got(openHoleReference({ technique, standard, equipment, rate_Hz, indexed: true }))
  for (const segment of [...got(reader.push(source)), ...got(reader.end()).segments]) got(run.take(segment))
  return got(run.close()).standardization
}

export function got<T>(result: Result<T>): T {
  if (isRefusal(result)) throw new Error(JSON.stringify(result))
  return result
}
