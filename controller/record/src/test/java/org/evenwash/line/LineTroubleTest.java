package org.evenwash.line;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import javax.net.SocketFactory;
import javax.net.ssl.SSLSocketFactory;
import org.junit.jupiter.api.Test;

/** What is met at the other end of a wire, each made here on loopback. */
class LineTroubleTest {
    private static final SocketFactory TLS =
            BrokerSockets.secure((SSLSocketFactory) SSLSocketFactory.getDefault());

    private static String metAt(InetSocketAddress broker, SocketFactory sockets)
            throws IOException {
        try (Socket socket = sockets.createSocket()) {
            socket.connect(broker, 200);
            return "connected";
        } catch (IOException e) {
            return LineTrouble.inWords(new IOException("Unable to connect to server", e));
        }
    }

    /** A server that says this to whoever comes, and hangs up. */
    private static String metAtServer(String says) throws IOException, InterruptedException {
        try (ServerSocket server = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            Thread answers =
                    new Thread(
                            () -> {
                                try (Socket caller = server.accept()) {
                                    int hello = caller.getInputStream().read(new byte[16 * 1024]);
                                    assertThat(hello).isPositive();
                                    caller.getOutputStream()
                                            .write(says.getBytes(StandardCharsets.US_ASCII));
                                } catch (IOException e) {
                                    throw new AssertionError(e);
                                }
                            });
            answers.start();
            String met = metAt((InetSocketAddress) server.getLocalSocketAddress(), TLS);
            answers.join();
            return met;
        }
    }

    @Test
    void nobodyListens() throws Exception {
        InetSocketAddress closed;
        try (ServerSocket server = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            closed = (InetSocketAddress) server.getLocalSocketAddress();
        }
        assertThat(metAt(closed, BrokerSockets.plain()))
                .isEqualTo(
                        "nothing answers there; check that the broker runs, its port and the network"
                                + " (Unable to connect to server: Connection refused)");
    }

    /** RFC 6761, section 6.4: no name under "invalid" is ever known. */
    @Test
    void nameIsNotKnown() throws Exception {
        assertThat(
                        metAt(
                                InetSocketAddress.createUnresolved("yard.invalid", 1883),
                                BrokerSockets.plain()))
                .startsWith("no machine of that name is known")
                .contains("yard.invalid");
    }

    @Test
    void serverKeepsSilent() throws Exception {
        try (ServerSocket server = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            assertThat(metAt((InetSocketAddress) server.getLocalSocketAddress(), TLS))
                    .startsWith("no answer in time");
        }
    }

    @Test
    void serverSpeaksNoTls() throws Exception {
        assertThat(metAtServer("HTTP/1.0 400 Bad Request\r\n\r\n")).startsWith("no TLS with");
    }

    @Test
    void serverHangsUp() throws Exception {
        assertThat(metAtServer("")).startsWith("what answers there hangs up at once");
    }

    @Test
    void troubleOfAnotherKind_keepsItsWords_eachOnce() {
        IOException cause = new IOException("outbox is shut");
        assertThat(LineTrouble.inWords(new IOException("outbox is shut", cause)))
                .isEqualTo("outbox is shut");
        assertThat(LineTrouble.inWords(new IllegalStateException()))
                .isEqualTo("IllegalStateException");
    }
}
