/**
 * The one colour scale: a colour is a component. Charts name the page's own colour properties (styles/tokens.css)
 * instead of values, so that a drawn SVG follows light, dark and print by itself.
 */
import type { Component } from '../words.ts';

export const COMPONENT_COLOURS: Record<Component, string> = {
  battery: 'var(--battery)',
  starter: 'var(--starter)',
  cables: 'var(--cables)',
  control: 'var(--control)',
  charging: 'var(--charging)',
};

export const INK = 'var(--ink)';
export const INK_SOFT = 'var(--ink-soft)';
export const RULE = 'var(--rule)';
export const SHEET = 'var(--sheet)';
