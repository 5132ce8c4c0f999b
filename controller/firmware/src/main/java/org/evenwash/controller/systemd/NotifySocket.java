package org.evenwash.controller.systemd;

import com.sun.jna.LastErrorException;
import com.sun.jna.Library;
import com.sun.jna.Native;
import com.sun.jna.NativeLong;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/**
 * The datagram socket of sd_notify(3). Java 17 has none of this kind; JNA is in the program already, for the adapters of the
 * board, and a call from it needs no child process beside a real-time thread.
 */
final class NotifySocket {
    // linux, include/linux/socket.h and include/linux/net.h
    private static final int AF_UNIX = 1;
    private static final int SOCK_DGRAM = 2;
    private static final int SOCK_CLOEXEC = 0x80000;
    private static final int MSG_NOSIGNAL = 0x4000;

    /** Of sockaddr_un, unix(7). */
    private static final int LONGEST_PATH_B = 107;

    private final byte[] address;

    private interface LibC extends Library {
        int socket(int domain, int type, int protocol) throws LastErrorException;

        NativeLong sendto(
                int socket,
                byte[] data,
                NativeLong length,
                int flags,
                byte[] address,
                int addressLength)
                throws LastErrorException;

        int close(int descriptor) throws LastErrorException;
    }

    /**
     * @param path of the socket; one that begins with '@' is in the abstract name space
     * @throws IllegalArgumentException if it is longer than Linux allows
     */
    NotifySocket(String path) {
        byte[] bytes = path.getBytes(StandardCharsets.UTF_8);
        if (bytes.length > LONGEST_PATH_B) {
            throw new IllegalArgumentException(
                    "NOTIFY_SOCKET is " + bytes.length + " bytes long, at most " + LONGEST_PATH_B);
        }
        if (bytes[0] == '@') {
            bytes[0] = 0;
        }
        address =
                ByteBuffer.allocate(Short.BYTES + bytes.length)
                        .order(ByteOrder.nativeOrder())
                        .putShort((short) AF_UNIX)
                        .put(bytes)
                        .array();
    }

    /**
     * @throws IllegalStateException if nobody takes it
     */
    void say(String message) {
        LibC c = Lazily.LIBC;
        byte[] data = message.getBytes(StandardCharsets.UTF_8);
        try {
            int socket = c.socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC, 0);
            try {
                c.sendto(
                        socket,
                        data,
                        new NativeLong(data.length),
                        MSG_NOSIGNAL,
                        address,
                        address.length);
            } finally {
                c.close(socket);
            }
        } catch (LastErrorException e) {
            throw new IllegalStateException("NOTIFY_SOCKET takes no message", e);
        }
    }

    /** Loaded by the watchdog's own thread, not on the way to the first scan. */
    private static final class Lazily {
        static final LibC LIBC = Native.load("c", LibC.class);
    }
}
