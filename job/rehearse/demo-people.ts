import type { PersonRow, RegisterRow } from '../plan/index.ts'
import { demoSheet } from './demo-sheet.ts'
import { weldDemoSheet } from './weld-demo-sheet.ts'

/**
 * The shop of the demonstration: people who may sign in it, and what its job uses. All of it is invented, and no secret
 * is kept: the passphrase is printed, so that anybody can see how signing works. It opens nothing but invented keys.
 */

export const demoPassphrase = 'invented words for the demonstration'

/** The Level III registers themself and the others, and approves the technique. */
export const demoPeople = [
  { name: 'Demonstration Level III (invented)', level: 'III' },
  { name: 'Demonstration Inspector (invented)', level: 'II' },
  { name: 'Second Demonstration Inspector (invented)', level: 'II' }
] as const

/** Certificates that outlast every demonstration. */
const from = '2020-01-01'
const until = '2099-12-31'
const certificate = { number: 'invented', issued: from, expires: until }

const rowOf = ({ name, level }: (typeof demoPeople)[number], key: string): PersonRow => ({
  ...{ register: 'person', version: 1, name, method: 'eddy current', level, certificate },
  near_vision: { examined: from, expires: until },
  key: { kind: 'Ed25519', public: key }
})

/** Rows of the registers, with the public keys (base64) of the people in their order. */
export function demoRegisters(keys: readonly string[]): readonly RegisterRow[] {
  const { equipment, reference_standard: standard, technique } = demoSheet()
  const { id, revision } = technique.procedure
  const weld = weldDemoSheet()
  return [
    ...demoPeople.map((person, at) => rowOf(person, keys[at] ?? '')),
    {
      ...{ register: 'instrument', version: 1, serial: equipment.instrument, maker: 'invented', model: 'simulated' },
      certificate
    },
    {
      ...{ register: 'probe', version: 1, serial: equipment.probe, type: 'differential' },
      coil: { width_mm: 1, frequency_kHz: { least: 100, most: 1000 } }
    },
    {
      ...{ register: 'reference standard', version: 1, certificate, standard },
      notch_uncertainty: standard.notches.map((notch) => ({ id: notch.id, uncertainty_mm: 0.01 }))
    },
    {
      ...{ register: 'procedure', version: 1, id, revision, effectivity: 'the demonstration (invented)' },
      ...{ in_force_from: from, approved: { by: demoPeople[0].name, level: 'III', on: from } }
    },
    {
      ...{ register: 'probe', version: 1, serial: weld.equipment.probe, type: 'differential' },
      coil: { width_mm: 2.4, frequency_kHz: { least: 50, most: 500 } }
    },
    {
      ...{ register: 'reference standard', version: 1, certificate, standard: weld.reference_standard },
      notch_uncertainty: weld.reference_standard.slots.map(({ id: slot }) => ({ id: slot, uncertainty_mm: 0.02 }))
    },
    {
      ...{
        register: 'procedure',
        version: 1,
        ...weld.technique.procedure,
        effectivity: 'the demonstration (invented)'
      },
      ...{ in_force_from: from, approved: { by: demoPeople[0].name, level: 'III', on: from } }
    }
  ]
}
