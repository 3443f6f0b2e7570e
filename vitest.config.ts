import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: { include: ['{ground,metal,job,host,apps,house,scripts}/**/*.test.ts'], testTimeout: 60_000, pool: 'forks' }
})
