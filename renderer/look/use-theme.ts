import { useCallback, useLayoutEffect, useSyncExternalStore } from 'react';
import { useApp, useParts } from '../app-parts.ts';

const query = '(prefers-color-scheme: light)';
const systemTheme = (): 'light' | 'dark' => (matchMedia(query).matches ? 'light' : 'dark');
const onSystem = (changed: () => void): (() => void) => {
  const media = matchMedia(query);
  media.addEventListener('change', changed);
  return () => media.removeEventListener('change', changed);
};

/** Puts the theme on the page. @returns turns it over and keeps that in the settings */
export function useTheme(): () => void {
  const { actions } = useParts();
  const chosen = useApp((state) => state.settings.theme);
  const system = useSyncExternalStore(onSystem, systemTheme);
  const theme = chosen === 'system' ? system : chosen;
  useLayoutEffect(() => {
    document.documentElement.dataset['theme'] = theme;
  }, [theme]);
  return useCallback(() => void actions.changeSettings({ theme: theme === 'dark' ? 'light' : 'dark' }), [actions, theme]);
}
