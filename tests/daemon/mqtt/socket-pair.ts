import { once } from "node:events";
import { type AddressInfo, connect, createServer, type Socket } from "node:net";

/** Two ends of one real TCP connection on loopback, and how to be rid of them. */
export async function openSocketPair(): Promise<{ near: Socket; far: Socket; close(): void }> {
  const server = createServer();
  server.listen(0, "127.0.0.1");
  await once(server, "listening");
  const accepted = once(server, "connection") as Promise<[Socket]>;
  const far = connect((server.address() as AddressInfo).port, "127.0.0.1");
  const [near] = await accepted;
  const close = () => {
    near.destroy();
    far.destroy();
    server.close();
  };
  return { near, far, close };
}
