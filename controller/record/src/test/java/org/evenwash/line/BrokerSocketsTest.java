package org.evenwash.line;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.SocketTimeoutException;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;

class BrokerSocketsTest {
    private final BrokerSockets sockets = BrokerSockets.plain();
    private final ByteArrayOutputStream sent = new ByteArrayOutputStream();
    private final CountDownLatch begun = new CountDownLatch(1);
    private final OutputStream out = sockets.together(sent, begun);

    private void packet(int content) throws IOException {
        out.write(content);
        out.flush();
    }

    @Test
    void announcedPackets_goOutWithTheLastOfThem() throws IOException {
        sockets.announce(3);
        packet(1);
        packet(2);
        assertThat(sent.toByteArray()).isEmpty();
        packet(3);
        assertThat(sent.toByteArray()).containsExactly(1, 2, 3);
        packet(4);
        assertThat(sent.toByteArray()).containsExactly(1, 2, 3, 4);
    }

    @Test
    void packetOfAnotherKindInBetween_leavesNothingBehind() throws IOException {
        sockets.announce(2);
        packet(1);
        packet(9);
        packet(2);
        assertThat(sent.toByteArray()).containsExactly(1, 9, 2);
    }

    @Test
    void announcedButWithdrawn_goesOutWithTheNextPacket() throws IOException {
        sockets.announce(5);
        packet(1);
        sockets.withdraw();
        packet(9);
        assertThat(sent.toByteArray()).containsExactly(1, 9);
    }

    @Test
    void whatIsHeld_isSaidToBeAvailable_withoutAskingTheSocket() throws IOException {
        InputStream in =
                BrokerSockets.ahead(
                        new ByteArrayInputStream(new byte[] {1, 2, 3}) {
                            @Override
                            public synchronized int available() {
                                throw new AssertionError("asked the socket");
                            }
                        },
                        begun);
        assertThat(in.read()).isEqualTo(1);
        assertThat(in.available()).isEqualTo(2);
    }

    /** The library's sockets time out each second; a packet that came in parts must stay whole. */
    @Test
    void timeOutOfTheSocket_losesNothingOfWhatFollows() throws IOException {
        InputStream in =
                BrokerSockets.ahead(
                        new InputStream() {
                            private int asked;

                            @Override
                            public int read() throws IOException {
                                if (asked++ % 2 == 0) {
                                    throw new SocketTimeoutException("nothing yet");
                                }
                                return asked;
                            }

                            @Override
                            public int read(byte[] to, int offset, int length) throws IOException {
                                to[offset] = (byte) read();
                                return 1;
                            }
                        },
                        begun);
        assertThatThrownBy(in::read).isInstanceOf(SocketTimeoutException.class);
        assertThat(in.read()).isEqualTo(2);
        assertThatThrownBy(in::read).isInstanceOf(SocketTimeoutException.class);
        assertThat(in.read()).isEqualTo(4);
    }

    /** Told sooner, the library would wait for its receiving thread for good. */
    @Test
    void endBeforeAnythingWasSent_isToldOnceSomethingIs() throws Exception {
        InputStream in = BrokerSockets.ahead(new ByteArrayInputStream(new byte[0]), begun);
        CompletableFuture<Integer> told = new CompletableFuture<>();
        Thread reader =
                new Thread(
                        () -> {
                            try {
                                told.complete(in.read());
                            } catch (IOException e) {
                                told.completeExceptionally(e);
                            }
                        });
        reader.start();
        Awaitility.await().until(() -> reader.getState() == Thread.State.TIMED_WAITING);
        assertThat(told).isNotDone();
        packet(1);
        assertThat(told.get(10, TimeUnit.SECONDS)).isEqualTo(-1);
    }
}
