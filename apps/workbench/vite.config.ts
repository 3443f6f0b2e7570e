import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

/** The page and its worker. Nothing is taken from elsewhere: no address of another host is in what this makes. */
export default defineConfig({
  root: import.meta.dirname,
  plugins: [react()],
  publicDir: false,
  worker: { format: 'es' },
  build: {
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
    sourcemap: false
  },
  server: {
    port: 4280,
    proxy: { '^/(api|favicon|jobs/[^/]+/report)': `http://127.0.0.1:${process.env.TRUELOOP_PORT ?? '4270'}` }
  }
})
