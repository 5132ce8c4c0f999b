package org.evenwash.logger.web;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketException;
import java.net.SocketTimeoutException;
import java.nio.charset.StandardCharsets;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Bytes to the server and the status of its answer: no library in between that would mend them. */
final class RawClient {
    private static final int PATIENCE_MS = 20_000;
    private static final Pattern COOKIE = Pattern.compile("(?i)set-cookie: ([^;\r\n]*)");
    private static final Pattern TOKEN = Pattern.compile("\"csrf\":\"([^\"]*)\"");

    private final int port;
    private String cookie = "";
    private String token = "";

    private RawClient(int port) {
        this.port = port;
    }

    /** With a session and the token that its writes need. */
    static RawClient signedIn(Scene scene) throws IOException {
        RawClient client = new RawClient(scene.server.port());
        String answer = client.exchange(client.request("GET", "/api/session", "", new byte[0]));
        client.cookie = found(COOKIE, answer);
        client.token = found(TOKEN, answer);
        return client;
    }

    private static String found(Pattern pattern, String text) {
        Matcher matcher = pattern.matcher(text);
        if (!matcher.find()) {
            throw new AssertionError("no " + pattern + " in " + text);
        }
        return matcher.group(1);
    }

    byte[] request(String method, String address, String more, byte[] body) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        String head =
                method
                        + " "
                        + address
                        + " HTTP/1.1\r\nHost: 127.0.0.1:"
                        + port
                        + "\r\nConnection: close\r\nContent-Length: "
                        + body.length
                        + "\r\nCookie: "
                        + cookie
                        + "\r\nX-CSRF-Token: "
                        + token
                        + "\r\n"
                        + more
                        + "\r\n";
        bytes.writeBytes(head.getBytes(StandardCharsets.UTF_8));
        bytes.writeBytes(body);
        return bytes.toByteArray();
    }

    /** The status, or 0 when the server only hung up. */
    int send(byte[] request) throws IOException {
        String answer = exchange(request);
        boolean http = answer.matches("(?s)HTTP/1\\.[01] [0-9]{3}.*");
        return http ? Integer.parseInt(answer.substring(9, 12)) : 0;
    }

    private String exchange(byte[] request) throws IOException {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
            socket.setSoTimeout(PATIENCE_MS);
            ByteArrayOutputStream answer = new ByteArrayOutputStream();
            try {
                socket.getOutputStream().write(request);
                socket.shutdownOutput();
                InputStream in = socket.getInputStream();
                in.transferTo(answer);
            } catch (SocketTimeoutException e) {
                throw new AssertionError(
                        "no answer to " + new String(request, StandardCharsets.UTF_8), e);
            } catch (SocketException e) {
                // It may hang up before all was written, as on a body that is too large.
                return answer.toString(StandardCharsets.UTF_8);
            }
            return answer.toString(StandardCharsets.UTF_8);
        }
    }
}
