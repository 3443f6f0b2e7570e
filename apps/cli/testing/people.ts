/** Invented people of a shop, with their passphrases, and the rows of what a demonstration sheet uses. */

export const passphrases: Readonly<Record<string, string>> = {
  'C. Level': 'three level words of an invented person',
  'B. Two': 'two invented words and then some more',
  'D. Other': 'another invented person altogether'
}

/** A person whose certificates outlast every test. */
export const person = (name: string, level: string, over: object = {}) => ({
  ...{ name, method: 'eddy current', level },
  certificate: { number: `INV-${name}`, issued: '2020-01-01', expires: '2099-12-31' },
  near_vision: { examined: '2020-01-01', expires: '2099-12-31' },
  ...over
})

export const registers = (...people: object[]) => ({ trueloop: 'registers/1', people })
const verified = { number: 'INV-K', issued: '2020-01-01', expires: '2099-12-31' }

/** What the sheet of the demonstration uses. */
export const used = ({ equipment, reference_standard: standard, technique }: Used) => ({
  trueloop: 'registers/1',
  instruments: [{ serial: equipment.instrument, maker: 'Invented', model: 'One', certificate: verified }],
  probes: [
    {
      ...{ serial: equipment.probe, type: 'differential' },
      coil: { width_mm: 1.5, frequency_kHz: { least: 100, most: 1000 } }
    }
  ],
  reference_standards: [
    {
      ...{ standard, certificate: verified },
      notch_uncertainty: standard.notches.map(({ id }) => ({ id, uncertainty_mm: 0.01 }))
    }
  ],
  procedures: [
    {
      ...{ id: technique.procedure.id, revision: technique.procedure.revision, effectivity: 'all (invented)' },
      ...{ in_force_from: '2020-01-01', approved: { by: 'C. Level', level: 'III', on: '2020-01-01' } }
    }
  ]
})

interface Used {
  readonly equipment: { readonly instrument: string; readonly probe: string }
  readonly reference_standard: { readonly notches: readonly { readonly id: string }[] }
  readonly technique: { readonly procedure: { readonly id: string; readonly revision: string } }
}
