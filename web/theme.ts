/** Light, dark, or as the system says; kept in the browser. Storage and root are handed in by main.ts. */
export const THEMES = ['system', 'light', 'dark'] as const;
export type Theme = (typeof THEMES)[number];

const KEY = 'crankledger-theme';

export type ThemeKeeper = { current(): Theme; set(theme: Theme): void };

export function createThemeKeeper(storage: Pick<Storage, 'getItem' | 'setItem'>, root: HTMLElement): ThemeKeeper {
  const read = (): Theme => THEMES.find((theme) => theme === storage.getItem(KEY)) ?? 'system';
  const show = (theme: Theme) => {
    if (theme === 'system') delete root.dataset['theme'];
    else root.dataset['theme'] = theme;
  };
  show(read());
  return {
    current: read,
    set: (theme) => {
      storage.setItem(KEY, theme);
      show(theme);
    },
  };
}
