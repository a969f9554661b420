import type { ClassedLife } from '../../etl/outlook/life-model.ts';

/** A battery life of class van with everything ordinary but what a test names. */
export function batteryLife(known: Partial<ClassedLife> = {}): ClassedLife {
  return {
    unit: 'U1',
    position: '',
    component: 'battery',
    class: 'van',
    unitInServiceOn: '2015-01-01',
    fittedOn: '2022-01-01',
    fittedFrom: 'record',
    removedOn: null,
    end: 'in_service',
    watchedFromOn: '2024-01-01',
    watchedToOn: '2025-12-31',
    workOrder: '',
    ...known,
  };
}
