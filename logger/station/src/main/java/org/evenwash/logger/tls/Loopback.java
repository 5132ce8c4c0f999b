package org.evenwash.logger.tls;

import java.net.InetAddress;
import java.net.UnknownHostException;

/** Where nothing needs to be encrypted, since it does not leave this machine. */
public final class Loopback {
    private Loopback() {}

    /** Whether a host, as numbers or a name, is this machine itself; one that has no address is not. */
    public static boolean is(String host) {
        try {
            return InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException e) {
            return false;
        }
    }
}
