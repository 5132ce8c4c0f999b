package org.evenwash.logger.tls;

import java.io.IOException;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.PrivateKey;
import java.security.cert.CertificateParsingException;
import java.security.cert.X509Certificate;
import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.evenwash.logger.secret.RandomSecret;

/** What a server proves itself with: a certificate, its chain and its key. */
public final class Identity {
    /** From so many days before its end on, a certificate is to be renewed. */
    public static final Duration REMIND = Duration.ofDays(30);

    private static final int DNS = 2;
    private static final int ADDRESS = 7;

    private final List<X509Certificate> chain;
    private final PrivateKey key;
    private final Path file;

    private Identity(List<X509Certificate> chain, PrivateKey key, Path file) {
        this.chain = chain;
        this.key = key;
        this.file = file;
    }

    /**
     * Reads a certificate and its key, both PEM.
     *
     * @throws CertificateTrouble naming the file if they cannot be read or do not belong together
     */
    public static Identity read(Path certificate, Path key) {
        List<X509Certificate> chain = Pem.certificates(certificate);
        PrivateKey secret = Pem.key(key, chain.get(0).getPublicKey().getAlgorithm());
        Identity identity = new Identity(chain, secret, certificate);
        if (!KeyCheck.fits(chain.get(0).getPublicKey(), secret)) {
            throw new CertificateTrouble(
                    "the key in " + key + " does not belong to the certificate in " + certificate,
                    null);
        }
        return identity;
    }

    /** For servers that want a key store: one entry, under a password that only this process has. */
    public KeyStore keyStore(char[] password) {
        try {
            KeyStore store = KeyStore.getInstance("PKCS12");
            store.load(null, null);
            store.setKeyEntry("server", key, password, chain.toArray(new X509Certificate[0]));
            return store;
        } catch (IOException | GeneralSecurityException e) {
            throw new CertificateTrouble("the certificate " + file + " cannot be used", e);
        }
    }

    public static char[] freshPassword() {
        return RandomSecret.make().toCharArray();
    }

    /** When it ends: the first of the chain to do so. */
    public Instant until() {
        return chain.stream()
                .map(one -> one.getNotAfter().toInstant())
                .min(Instant::compareTo)
                .orElseThrow();
    }

    /** Whether it is time to renew it. */
    public boolean endsSoon(Instant now) {
        return until().isBefore(now.plus(REMIND));
    }

    /** Host names and addresses that it stands for, addresses of version 6 in brackets. */
    public Set<String> names() {
        return names(chain.get(0));
    }

    static Set<String> names(X509Certificate certificate) {
        Set<String> names = new TreeSet<>();
        try {
            Collection<List<?>> all = certificate.getSubjectAlternativeNames();
            for (List<?> one : all == null ? List.<List<?>>of() : all) {
                String name = String.valueOf(one.get(1));
                if (one.get(0).equals(DNS)) {
                    names.add(name);
                } else if (one.get(0).equals(ADDRESS)) {
                    names.add(name.contains(":") ? "[" + name + "]" : name);
                }
            }
        } catch (CertificateParsingException e) {
            throw new CertificateTrouble("the names of a certificate cannot be read", e);
        }
        return names;
    }

    public Path file() {
        return file;
    }
}
