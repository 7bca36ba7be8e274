import { fileURLToPath } from 'node:url';
import { createCustomerServer } from '../web/server/customer/createCustomerServer.ts';
import type { CustomerParts } from '../web/server/customer/customerRoutes.ts';
import type { CustomerPlace } from './customerPlace.ts';
import { listenOn } from './serveAddress.ts';

/** Serves the customers' page until it is closed. */
export async function serveCustomers(
  place: CustomerPlace,
  parts: CustomerParts & { readonly trouble: (error: Error) => void },
): Promise<{ close(): Promise<void> }> {
  const pageFolder = fileURLToPath(new URL('../web/customer', import.meta.url));
  const { server } = await createCustomerServer({ ...place, ...parts, pageFolder });
  await listenOn(server, place, '--customer-address');
  return { close: () => server.close() };
}
