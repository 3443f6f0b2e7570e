import type { Base, Material, Stated } from './material.ts'

const read91 = { standing: 'confirmed', source: 'et-programmed-9, table 9.1' } as const
const read92 = { standing: 'confirmed', source: 'et-programmed-9, table 9.2' } as const
const read51 = { standing: 'confirmed', source: 'et-programmed-9, table 5.1' } as const
const typical = { standing: 'confirmed', source: 'aluminum-typical-1' } as const
const handbook = { standing: 'confirmed', source: 'asm-handbook-2, entry 1050' } as const
const temper73 = { standing: 'confirmed', source: 'ams-4124, as explained in public' } as const
const boltHole = { standing: 'confirmed', source: 'bolt-hole-study-1, p. 47' } as const
const memory = { standing: 'proposed', source: 'from memory' } as const

/** A metal that is not ferromagnetic differs from 1 by less than an examination can tell. */
const none: Stated = { value: 1, standing: 'confirmed', source: 'not ferromagnetic' }

/** Nickel alloys and austenitic steels: near 1, but composition and cold work decide. */
const nearly: Stated = { value: 1, ...memory }

const row = (name: string, base: Base, conductivity_IACS: Stated, permeability: Stated = none): Material => ({
  name,
  base,
  conductivity_IACS,
  permeability
})

/**
 * Conductivity at 20 °C and relative permeability. A range from memory is to be replaced from the governing
 * specification before it decides anything. A material is added here, as one row with its source.
 */
export const materials: readonly Material[] = [
  row('silver', 'noble', { value: 105, ...read91 }),
  row('copper, annealed', 'copper', { value: 100, ...read91 }),
  row('gold', 'noble', { value: 70, ...read91 }),
  row('aluminum, pure', 'aluminum', { value: 61, ...read91 }),
  row('aluminum, 99.99 %', 'aluminum', { value: 64.94, ...read51 }),
  row('1050-O', 'aluminum', { value: 61.3, ...handbook }),
  row('1100', 'aluminum', { value: 59, ...typical }),
  row('2024-O', 'aluminum', { value: 50, ...typical }),
  row('2024-T3', 'aluminum', { value: 30, low: 28.5, high: 32.5, limits: 'proposed', ...typical }),
  row('2024-T4', 'aluminum', { value: 30, low: 28.5, high: 32.5, limits: 'proposed', ...read91 }),
  row('2024-T6', 'aluminum', { value: 38, ...typical }),
  row('3003', 'aluminum', { value: 48, ...typical }),
  row('5052', 'aluminum', { value: 35, ...typical }),
  row('6061-O', 'aluminum', { value: 47, ...typical }),
  row('6061-T4', 'aluminum', { value: 40, ...typical }),
  row('6061-T6', 'aluminum', { value: 43, low: 40, high: 45, limits: 'proposed', ...typical }),
  row('7075-T6', 'aluminum', { value: 32, low: 30.5, high: 36, limits: 'proposed', ...read91 }),
  row('7075-T73', 'aluminum', { low: 38, high: 43, ...temper73 }),
  row('aluminum of the bolt-hole study', 'aluminum', { value: 32.7, ...boltHole }),
  row('magnesium', 'magnesium', { low: 37, high: 38.6, ...read91 }),
  row('brass 70-30', 'copper', { value: 28, ...read91 }),
  row('phosphor bronze', 'copper', { value: 11, ...read91 }),
  row('Monel', 'nickel', { value: 3.6, ...read91 }, nearly),
  row('titanium, pure', 'titanium', { value: 3.1, ...read91 }),
  row('Ti-6Al-4V', 'titanium', { value: 1, ...boltHole }),
  row('304', 'stainless steel', { value: 2.5, ...read91 }, { value: 1, low: 1, high: 1.1, ...memory }),
  row('316L', 'stainless steel', { value: 2.3, ...memory }, nearly),
  row('17-7PH TH1050', 'stainless steel', { value: 2.5, ...boltHole }, { value: 75, ...boltHole }),
  row('Inconel 600', 'nickel', { value: 1.7, ...read91 }, nearly),
  row('Inconel 718', 'nickel', { value: 1.4, ...memory }, nearly),
  row('Hastelloy X', 'nickel', { value: 1.5, ...read91 }, nearly),
  row('Waspaloy', 'nickel', { value: 1.4, ...read91 }, nearly),
  row('iron, pure', 'steel', { value: 18, ...read51 }, { low: 150, high: 5000, ...memory }),
  row('carbon steel A106', 'steel', { value: 11, ...read92 }, { value: 141, ...read92 }),
  row('carbon steel A178', 'steel', { value: 13, ...read92 }, { value: 166, ...read92 }),
  row('carbon steel A179', 'steel', { value: 10, ...read92 }, { value: 162, ...read92 }),
  row('carbon steel A214', 'steel', { value: 12, ...read92 }, { value: 132, ...read92 }),
  row('carbon steel A519 grade 1020', 'steel', { value: 12, ...read92 }, { value: 109, ...read92 }),
  row('4130', 'steel', { value: 7.7, ...memory }, { low: 50, high: 500, ...memory }),
  row('4340', 'steel', { value: 7, ...memory }, { low: 50, high: 500, ...memory })
]
