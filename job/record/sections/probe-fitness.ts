import { type FitnessTrend, fitnessLimits, fitnessTrend } from '../../plan/index.ts'
import { type Block, cells, heading, paragraph, tableOr } from '../blocks.ts'
import type { EntryOf } from '../kinds.ts'
import { signed } from '../print.ts'
import type { Section } from '../report-input.ts'

/** Whether the probe was fit for welds, limit by limit, and how it changes from check to check. */
export const probeFitness: Section = {
  title: 'Probe fitness',
  isAsked: ({ state }) => state.opened.application === 'weld',
  blocks: ({ state: { probeChecks } }) => {
    const probes = [...new Set(probeChecks.map(({ check }) => check.probe))]
    if (probes.length === 0)
      return [paragraph('The record holds no check of the probe: whether it is fit is not known.')]
    return probes.flatMap((probe) =>
      ofProbe(
        probe,
        probeChecks.filter(({ check }) => check.probe === probe)
      )
    )
  }
}

function ofProbe(probe: string, entries: readonly EntryOf<'probe-checked'>[]): readonly Block[] {
  const checks = entries.map(({ check }) => check).toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0))
  const last = checks.at(-1)
  if (last === undefined) return []
  const columns = ['Limit', 'Needed', 'Found', 'Met'].map((label) => ({ label }))
  const limits = fitnessLimits(last).map(({ limit, needed, found, met }) =>
    cells(limit, needed, found, met ? 'yes' : 'NO')
  )
  return [
    heading(3, `Probe ${probe}`),
    tableOr({ caption: `Checked on ${last.on} by ${last.by}`, columns, rows: limits }, ''),
    ...(checks.length < 2 ? [paragraph('There is no earlier check to compare with.')] : [trend(checks)])
  ]
}

function trend(checks: Parameters<typeof fitnessTrend>[0]): Block {
  const all = fitnessTrend(checks)
  const days = all[0]?.rows.map(({ on }) => ({ label: on, figures: true as const })) ?? []
  const columns = [{ label: 'Checked' }, ...days, { label: 'Change', figures: true as const }]
  return tableOr({ caption: 'From check to check', columns, rows: all.map(trendRow) }, '')
}

const trendRow = ({ limit, unit, rows, change }: FitnessTrend) => {
  const figure = (value: number) => signed(value.toFixed(2))
  const words = `${limit}, ${unit}`
  return cells(words, ...rows.map(({ value }) => figure(value)), change > 0 ? `+${figure(change)}` : figure(change))
}
