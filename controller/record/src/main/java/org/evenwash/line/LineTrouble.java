package org.evenwash.line;

import java.io.EOFException;
import java.net.ConnectException;
import java.net.NoRouteToHostException;
import java.net.SocketException;
import java.net.SocketTimeoutException;
import java.net.UnknownHostException;
import java.security.cert.CertPathBuilderException;
import java.security.cert.CertPathValidatorException;
import java.security.cert.CertificateException;
import java.security.cert.CertificateExpiredException;
import java.security.cert.CertificateNotYetValidException;
import java.util.Optional;
import javax.net.ssl.SSLException;
import org.evenwash.record.PlainText;

/** Why a broker cannot be reached, for whoever has to do something about it. */
public final class LineTrouble {
    private LineTrouble() {}

    /** What is wrong and what to look at, and after it what Java said; in one line. */
    public static String inWords(Throwable trouble) {
        StringBuilder said = new StringBuilder();
        Optional<String> known = Optional.empty();
        for (Throwable cause = trouble; cause != null; cause = cause.getCause()) {
            // Causes repeat each other's words.
            if (cause.getMessage() != null && said.indexOf(cause.getMessage()) < 0) {
                said.append(said.isEmpty() ? "" : ": ").append(cause.getMessage());
            }
            Optional<String> words = known(cause);
            known = words.isPresent() ? words : known; // The last cause knows best.
        }
        // Part of it may be what the other end has sent.
        String java =
                said.isEmpty() ? trouble.getClass().getSimpleName() : PlainText.of(said.toString());
        return known.map(words -> words + " (" + java + ")").orElse(java);
    }

    private static Optional<String> known(Throwable cause) {
        if (cause instanceof UnknownHostException) {
            return Optional.of("no machine of that name is known; check the name and the network");
        }
        if (cause instanceof NoRouteToHostException) {
            return Optional.of("no way leads there; check the address and the network");
        }
        if (cause instanceof ConnectException) {
            return Optional.of(
                    "nothing answers there; check that the broker runs, its port and the network");
        }
        if (cause instanceof SocketTimeoutException) {
            return Optional.of("no answer in time; check the address and the network");
        }
        if (cause instanceof EOFException || cause instanceof SocketException) {
            return Optional.of(
                    "what answers there hangs up at once; check that the broker runs behind it, that"
                            + " the port is the broker's, and that both speak TLS or neither");
        }
        if (cause instanceof CertificateExpiredException
                || cause instanceof CertificateNotYetValidException) {
            return Optional.of(
                    "the broker's certificate is not valid today; check the clock, or renew it");
        }
        if (cause instanceof CertPathBuilderException
                || cause instanceof CertPathValidatorException) {
            return Optional.of(
                    "the broker's certificate is from an authority that is not trusted here; check"
                            + " which authority's certificate is set");
        }
        if (cause instanceof CertificateException) {
            return Optional.of(
                    "the broker's certificate is refused; it must name the address that is called");
        }
        if (cause instanceof SSLException) {
            return Optional.of("no TLS with what answers there; check the port");
        }
        return Optional.empty();
    }
}
