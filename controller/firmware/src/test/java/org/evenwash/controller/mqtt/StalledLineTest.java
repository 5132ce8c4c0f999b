package org.evenwash.controller.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import javax.net.ssl.SSLSocket;
import org.awaitility.Awaitility;
import org.evenwash.line.BrokerSockets;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A broker that goes on holding the line and reads no more, as one that hangs does. */
@Timeout(60)
class StalledLineTest {
    @TempDir Path folder;
    private final AtomicLong written = new AtomicLong();
    private final CompletableFuture<IOException> writerEnd = new CompletableFuture<>();

    @Test
    void overTls_closingWaitsForNobody_andTheWriterEnds() throws Exception {
        ThrowAwayAuthority authority =
                new ThrowAwayAuthority(folder.resolve("ours")).issue("dns:localhost");
        try (ServerSocket door =
                authority
                        .serverContext()
                        .getServerSocketFactory()
                        .createServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            closesAtOnce(BrokerSockets.secure(Credentials.trusting(authority.certificate())), door);
        }
    }

    @Test
    void plain_closingWaitsForNobody_andTheWriterEnds() throws Exception {
        try (ServerSocket door = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            closesAtOnce(BrokerSockets.plain(), door);
        }
    }

    private void closesAtOnce(BrokerSockets sockets, ServerSocket door) throws Exception {
        CompletableFuture<Socket> other = CompletableFuture.supplyAsync(() -> accepted(door));
        Socket line = sockets.createSocket();
        line.connect(door.getLocalSocketAddress(), 10_000);
        Thread writer = new Thread(() -> write(line), "writer");
        writer.setDaemon(true);
        writer.start();
        awaitStandstill();

        CompletableFuture<Void> closed = CompletableFuture.runAsync(() -> close(line));
        assertThatCode(() -> closed.get(1, TimeUnit.SECONDS)).doesNotThrowAnyException();
        assertThat(writerEnd.get(1, TimeUnit.SECONDS)).isInstanceOf(IOException.class);
        other.get().close();
    }

    private static Socket accepted(ServerSocket door) {
        try {
            Socket socket = door.accept();
            if (socket instanceof SSLSocket secured) {
                secured.startHandshake();
            }
            return socket;
        } catch (IOException e) {
            throw new AssertionError(e);
        }
    }

    private void write(Socket line) {
        byte[] packet = new byte[5_000];
        try {
            while (true) {
                line.getOutputStream().write(packet);
                line.getOutputStream().flush();
                written.addAndGet(packet.length);
            }
        } catch (IOException e) {
            writerEnd.complete(e);
        }
    }

    /** Both systems' buffers are full when nothing more was taken for a while. */
    private void awaitStandstill() {
        long[] before = {-1};
        Awaitility.await()
                .pollInterval(Duration.ofMillis(300))
                .until(
                        () -> {
                            long now = written.get();
                            boolean still = now > 0 && now == before[0];
                            before[0] = now;
                            return still;
                        });
    }

    private static void close(Socket line) {
        try {
            line.close();
        } catch (IOException e) {
            throw new AssertionError(e);
        }
    }
}
