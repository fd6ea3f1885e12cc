package org.rootling.support;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;

/**
 * The way from a phone to the server, which can be cut: a port on loopback that passes bytes on, or refuses. Unlike the
 * browser's own offline switch it cuts off a service worker that was asleep as well.
 */
public final class Signal implements AutoCloseable {
    private final int serverPort;
    private final int port;
    private final Set<Socket> open = ConcurrentHashMap.newKeySet();
    private volatile ServerSocket door;

    public Signal(int serverPort) throws IOException {
        this.serverPort = serverPort;
        door = new ServerSocket(0, 200, InetAddress.getLoopbackAddress());
        port = door.getLocalPort();
        listen(door);
    }

    public int port() {
        return port;
    }

    /** From now on nothing gets through. */
    public void off() throws IOException {
        door.close();
        blink();
    }

    /** What is under way is cut off; what is asked next gets through. */
    public void blink() throws IOException {
        for (Socket s : open) {
            s.close();
        }
        open.clear();
    }

    /** From now on all gets through again. */
    public void on() throws IOException {
        ServerSocket again = new ServerSocket();
        again.setReuseAddress(true);
        again.bind(new InetSocketAddress(InetAddress.getLoopbackAddress(), port), 200);
        door = again;
        listen(again);
    }

    @Override
    public void close() throws IOException {
        off();
    }

    private void listen(ServerSocket at) {
        start(() -> {
            while (!at.isClosed()) {
                Socket phone = at.accept();
                Socket server = new Socket(InetAddress.getLoopbackAddress(), serverPort);
                open.add(phone);
                open.add(server);
                start(() -> pass(phone, server));
                start(() -> pass(server, phone));
            }
        });
    }

    private void pass(Socket from, Socket to) throws IOException {
        try (from;
                to;
                InputStream in = from.getInputStream();
                OutputStream out = to.getOutputStream()) {
            in.transferTo(out);
        } finally {
            open.remove(from);
            open.remove(to);
        }
    }

    private interface Work {
        void run() throws IOException;
    }

    private static void start(Work work) {
        Thread thread = new Thread(
                () -> {
                    try {
                        work.run();
                    } catch (IOException cut) {
                        // The signal was cut, which is what this is for.
                        Thread.currentThread().interrupt();
                    }
                },
                "signal");
        thread.setDaemon(true);
        thread.start();
    }
}
