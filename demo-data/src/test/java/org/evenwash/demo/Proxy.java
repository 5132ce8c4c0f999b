package org.evenwash.demo;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;

/** A network of the test's own between two programs on loopback, which can be slowed and cut. */
final class Proxy implements AutoCloseable {
    /** How the network does. */
    enum Condition {
        OPEN,
        /** A few kilobytes a second, each with a delay. */
        SLOW,
        /** Connections stand, and nothing passes. */
        SILENT,
        /** Connections break, and no new one comes about. */
        CUT
    }

    private static final int SLOW_CHUNK_B = 200;
    private static final int SLOW_DELAY_MS = 50;
    private static final int FAST_CHUNK_B = 65_536;

    private final ServerSocket door;
    private final int target;
    private final Set<Socket> sockets = ConcurrentHashMap.newKeySet();
    private Condition condition = Condition.OPEN;
    private boolean closed;

    /**
     * @param target port of the program behind
     */
    Proxy(int target) throws IOException {
        this.target = target;
        this.door = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
        start("proxy to " + target, this::accept);
    }

    int port() {
        return door.getLocalPort();
    }

    synchronized void become(Condition next) {
        condition = next;
        if (next == Condition.CUT) {
            sockets.forEach(Proxy::hangUp);
            sockets.clear();
        }
        notifyAll();
    }

    private void accept() {
        while (true) {
            try {
                Socket near = door.accept();
                Socket far = isCut() ? null : reach();
                if (far == null) {
                    hangUp(near);
                    continue;
                }
                sockets.add(near);
                sockets.add(far);
                start("proxy out", () -> pump(near, far));
                start("proxy back", () -> pump(far, near));
            } catch (IOException e) {
                return; // close() has shut the door
            }
        }
    }

    /** Null when nobody listens there, as while that program is down. */
    private Socket reach() {
        try {
            return new Socket(InetAddress.getLoopbackAddress(), target);
        } catch (IOException e) {
            return null;
        }
    }

    private synchronized boolean isCut() {
        return condition == Condition.CUT;
    }

    private void pump(Socket from, Socket to) {
        try (InputStream in = from.getInputStream();
                OutputStream out = to.getOutputStream()) {
            byte[] buffer = new byte[FAST_CHUNK_B];
            for (int size = in.read(buffer, 0, chunk());
                    size >= 0;
                    size = in.read(buffer, 0, chunk())) {
                waitForPassage();
                out.write(buffer, 0, size);
            }
        } catch (IOException | InterruptedException e) {
            // Either end hung up, or the line was cut: both lose both.
        } finally {
            hangUp(from);
            hangUp(to);
            sockets.remove(from);
            sockets.remove(to);
        }
    }

    private synchronized int chunk() {
        return condition == Condition.SLOW ? SLOW_CHUNK_B : FAST_CHUNK_B;
    }

    private synchronized void waitForPassage() throws InterruptedException {
        long until_ns = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(SLOW_DELAY_MS);
        while (condition == Condition.SLOW && !closed && System.nanoTime() < until_ns) {
            wait(SLOW_DELAY_MS);
        }
        while (condition == Condition.SILENT && !closed) {
            wait();
        }
    }

    private static void hangUp(Socket socket) {
        try {
            socket.close();
        } catch (IOException e) {
            throw new UncheckedIOException("a socket cannot be closed", e);
        }
    }

    private static void start(String name, Runnable work) {
        Thread thread = new Thread(work, name);
        thread.setDaemon(true);
        thread.start();
    }

    @Override
    public void close() throws IOException {
        synchronized (this) {
            closed = true;
        }
        door.close();
        become(Condition.CUT);
    }
}
