import { useEffect } from 'react'

/** What the window's tab and the screen reader call this page. */
export function usePageTitle(title: string): void {
  useEffect(() => {
    document.title = `${title} · Haspwright`
  }, [title])
}
