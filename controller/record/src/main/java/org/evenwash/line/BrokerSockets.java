package org.evenwash.line;

import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketAddress;
import java.net.SocketException;
import java.net.SocketTimeoutException;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.logging.Level;
import java.util.logging.Logger;
import javax.net.SocketFactory;
import javax.net.ssl.SSLParameters;
import javax.net.ssl.SSLSocket;
import javax.net.ssl.SSLSocketFactory;

/**
 * What an MQTT client of Paho's talks through, plain or TLS; the library itself is told a {@code tcp}
 * address either way. Four of its habits end here:
 *
 * <ul>
 *   <li>A connection that ends before CONNECT is sent leaves a thread behind that never ends (its issue
 *       850). Here such an end is told once CONNECT is on its way.
 *   <li>It asks the system for single bytes. Here what comes is read ahead.
 *   <li>It flushes each acknowledgement by itself. Here those that were announced go out together.
 *   <li>It prints some of the errors that it also reports, with their stack. Here they are not printed.
 * </ul>
 */
public final class BrokerSockets extends SocketFactory {
    /** Held, since a level is forgotten with its logger. */
    private static final Logger OF_THE_LIBRARY = Logger.getLogger("org.eclipse.paho.mqttv5");

    static {
        OF_THE_LIBRARY.setLevel(Level.OFF);
    }

    private static final int AHEAD_BYTES = 64 * 1024;

    /** Within this a client has sent its CONNECT, or has given up. */
    private static final int LONGEST_START_S = 10;

    private final SSLSocketFactory tls;
    private final AtomicInteger announced = new AtomicInteger();

    private BrokerSockets(SSLSocketFactory tls) {
        this.tls = tls;
    }

    public static BrokerSockets plain() {
        return new BrokerSockets(null);
    }

    /** The broker's certificate has to name the host that was asked for. */
    public static BrokerSockets secure(SSLSocketFactory tls) {
        return new BrokerSockets(tls);
    }

    /** That many packets follow at once: their flushes wait for the last of them. */
    public void announce(int packets) {
        announced.addAndGet(packets);
    }

    /** Not all that were announced come: the next packet goes out, and takes along what waits. */
    public void withdraw() {
        announced.set(0);
    }

    @Override
    public Socket createSocket() {
        return new Line();
    }

    @Override
    public Socket createSocket(String host, int port) throws IOException {
        throw connectsItself();
    }

    @Override
    public Socket createSocket(String host, int port, InetAddress localHost, int localPort)
            throws IOException {
        throw connectsItself();
    }

    @Override
    public Socket createSocket(InetAddress host, int port) throws IOException {
        throw connectsItself();
    }

    @Override
    public Socket createSocket(
            InetAddress address, int port, InetAddress localAddress, int localPort)
            throws IOException {
        throw connectsItself();
    }

    private static IOException connectsItself() {
        return new IOException("the MQTT library connects its sockets itself");
    }

    /** The calls that the library makes, of the socket that does the work. */
    private final class Line extends Socket {
        private final CountDownLatch begun = new CountDownLatch(1);
        private final Socket plain = new Socket();
        private volatile Socket socket = plain;
        private InputStream in;
        private OutputStream out;

        @Override
        public void connect(SocketAddress broker, int timeout_ms) throws IOException {
            plain.connect(broker, timeout_ms);
            if (tls != null) {
                socket = secured((InetSocketAddress) broker, timeout_ms);
            }
            in = ahead(socket.getInputStream(), begun);
            out = together(socket.getOutputStream(), begun);
        }

        private SSLSocket secured(InetSocketAddress broker, int timeout_ms) throws IOException {
            try {
                SSLSocket secured =
                        (SSLSocket)
                                tls.createSocket(
                                        plain, broker.getHostString(), broker.getPort(), true);
                SSLParameters parameters = secured.getSSLParameters();
                parameters.setEndpointIdentificationAlgorithm("HTTPS");
                secured.setSSLParameters(parameters);
                secured.setSoTimeout(timeout_ms);
                secured.startHandshake();
                return secured;
            } catch (IOException e) {
                plain.close();
                throw e;
            }
        }

        @Override
        public synchronized void setSoTimeout(int timeout_ms) throws SocketException {
            socket.setSoTimeout(timeout_ms);
        }

        @Override
        public InputStream getInputStream() {
            return in;
        }

        @Override
        public OutputStream getOutputStream() {
            return out;
        }

        /** Done by closing, which the library does next; TLS has no half of it. */
        @Override
        public void shutdownInput() {}

        /**
         * The plain socket first: TLS says good-bye when it is closed, and would wait for that behind a write
         * that nobody reads. MQTT has a DISCONNECT of its own, so nobody misses the good-bye.
         */
        @Override
        public synchronized void close() throws IOException {
            begun.countDown();
            plain.close();
            socket.close();
        }
    }

    static InputStream ahead(InputStream socket, CountDownLatch begun) {
        return new Ahead(new Patient(socket, begun));
    }

    OutputStream together(OutputStream socket, CountDownLatch begun) {
        return new Together(socket, begun);
    }

    /** Tells of an end only when the client has begun to send, or is closed. */
    private static final class Patient extends FilterInputStream {
        private final CountDownLatch begun;

        Patient(InputStream socket, CountDownLatch begun) {
            super(socket);
            this.begun = begun;
        }

        @Override
        public int read(byte[] to, int offset, int length) throws IOException {
            try {
                int read = in.read(to, offset, length);
                if (read < 0) {
                    awaitBegin();
                }
                return read;
            } catch (SocketTimeoutException e) {
                throw e; // nothing came yet, and that is no end
            } catch (IOException e) {
                awaitBegin();
                throw e;
            }
        }

        @Override
        public int available() throws IOException {
            try {
                return in.available();
            } catch (IOException e) {
                awaitBegin();
                throw e;
            }
        }

        private void awaitBegin() {
            try {
                begun.await(LONGEST_START_S, TimeUnit.SECONDS);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }
    }

    private static final class Ahead extends BufferedInputStream {
        Ahead(InputStream socket) {
            super(socket, AHEAD_BYTES);
        }

        /** The system is asked only where nothing is held: the library asks before each packet. */
        @Override
        public synchronized int available() throws IOException {
            return count > pos ? count - pos : super.available();
        }
    }

    private final class Together extends BufferedOutputStream {
        private final CountDownLatch begun;

        Together(OutputStream socket, CountDownLatch begun) {
            super(socket);
            this.begun = begun;
        }

        @Override
        public synchronized void flush() throws IOException {
            begun.countDown();
            int left = announced.updateAndGet(packets -> Math.max(0, packets - 1));
            if (left == 0) {
                super.flush();
            }
        }
    }
}
