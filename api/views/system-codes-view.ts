import type { SystemCode, SystemCodes } from '../contract/system-codes.ts';
import { readWorkOrder } from '../../etl/lives/read-work-order.ts';
import { groupBy } from '../../etl/model/group-by.ts';
import type { WorkOrder } from '../../etl/model/work-order.ts';
import type { Store } from '../../etl/store/store.ts';

/** Records of a code that are read to say what it is about: enough for a proposal, few enough for a request. */
const READ_OF_EACH = 40;

/** The codes of the fleet's own scheme, each with what the words of its records speak of. */
export async function systemCodesView(store: Store): Promise<SystemCodes> {
  const [orders, { systemCodes }] = await Promise.all([store.workOrders(Infinity), store.settings()]);
  const coded = groupBy(
    orders.filter(({ systemCode }) => (systemCode ?? '') !== ''),
    ({ systemCode }) => systemCode!,
  );
  // Codes that somebody mapped stay in sight, also when no record carries them any more.
  const unused = Object.keys(systemCodes).filter((code) => !coded.has(code));
  const codes = [...coded, ...unused.map((code) => [code, []] as const)].map(([code, own]): SystemCode => ({
    code,
    orders: own.length,
    component: systemCodes[code] ?? null,
    ...aboutOf(own.slice(-READ_OF_EACH)),
  }));
  return { codes: codes.sort((a, b) => b.orders - a.orders || Number(a.code > b.code) - 0.5), orders: orders.length };
}

/** What most of the records that name a part speak of, with one of those records. */
function aboutOf(orders: readonly WorkOrder[]): Pick<SystemCode, 'read' | 'example'> {
  const named = orders.flatMap((order) => {
    const part = readWorkOrder(order).find(({ component }) => component !== 'none');
    return part === undefined ? [] : [{ order, component: part.component }];
  });
  const most = [...groupBy(named, ({ component }) => component).values()].sort((a, b) => b.length - a.length)[0];
  const shown = most?.[0]?.order ?? orders.at(-1);
  return {
    read: most === undefined ? null : { component: most[0]!.component, orders: most.length, ofRead: orders.length },
    example: shown === undefined ? '' : wordsOf(shown),
  };
}

function wordsOf({ complaint, cause, correction }: WorkOrder): string {
  return [complaint, cause, correction].filter((text) => (text ?? '') !== '').join(' / ');
}
