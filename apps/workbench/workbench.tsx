import { QueryClient, QueryClientProvider } from '@tanstack/react-query'
import { createRootRoute, createRoute, createRouter, lazyRouteComponent, RouterProvider } from '@tanstack/react-router'
import { askAhead } from './asking/ahead.ts'
import { type PlaceKey, Unreached } from './asking/client.ts'
import { JobsPage } from './jobs/jobs-page.tsx'
import { NotThere } from './shell/not-there.tsx'
import { PreferencesProvider } from './shell/preferences.tsx'
import { Shell } from './shell/shell.tsx'

const root = createRootRoute({ component: Shell, notFoundComponent: NotThere })

const jobs = createRoute({ getParentRoute: () => root, path: '/', component: JobsPage })

const job = createRoute({
  getParentRoute: () => root,
  path: '/jobs/$job',
  component: lazyRouteComponent(() => import('./queue/queue-page.tsx'), 'QueuePage')
})

const place = createRoute({
  getParentRoute: () => root,
  path: '/jobs/$job/$of/$name',
  // not waited for: the page is there at once, and its parts as they come
  loader: ({ params: { job, of, name } }) => askAhead(queries, job, { of, name } as PlaceKey),
  component: lazyRouteComponent(() => import('./examine/examine-page.tsx'), 'ExaminePage')
})

const recording = createRoute({
  getParentRoute: () => root,
  path: '/jobs/$job/recording/$examination',
  component: lazyRouteComponent(() => import('./recording/recording-page.tsx'), 'RecordingPage')
})

const scan = createRoute({
  getParentRoute: () => root,
  path: '/jobs/$job/scan',
  component: lazyRouteComponent(() => import('./scanning/scan-page.tsx'), 'ScanPage')
})

const router = createRouter({
  routeTree: root.addChildren([jobs, job, place, recording, scan]),
  defaultPreload: 'intent',
  // nothing is kept of pages that were left: what they showed is in the queries, which are bounded
  defaultGcTime: 0,
  defaultPreloadGcTime: 0
})

declare module '@tanstack/react-router' {
  interface Register {
    router: typeof router
  }
}

/** Nobody answers: asked again for as long as it takes. A no stays a no. */
const queries = new QueryClient({
  defaultOptions: {
    queries: {
      retry: (_, error) => error instanceof Unreached,
      retryDelay: 1000,
      networkMode: 'always',
      refetchOnWindowFocus: true
    }
  }
})

export function Workbench() {
  return (
    <QueryClientProvider client={queries}>
      <PreferencesProvider>
        <RouterProvider router={router} />
      </PreferencesProvider>
    </QueryClientProvider>
  )
}
