package org.evenwash.controller.mqtt;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.Certificate;
import java.security.cert.CertificateFactory;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLSocketFactory;
import javax.net.ssl.TrustManagerFactory;

/** The password and the private authority, read from their files at each connection. */
final class Credentials {
    private Credentials() {}

    static byte[] password(Path file) throws TlsTrouble {
        try {
            return Files.readString(file).strip().getBytes(StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new TlsTrouble("the password file " + file + " cannot be read", e);
        }
    }

    /** Trusts the certificates in {@code file} and no others. */
    static SSLSocketFactory trusting(Path file) throws TlsTrouble {
        try (InputStream in = Files.newInputStream(file)) {
            KeyStore trusted = KeyStore.getInstance(KeyStore.getDefaultType());
            trusted.load(null, null);
            int count = 0;
            for (Certificate certificate :
                    CertificateFactory.getInstance("X.509").generateCertificates(in)) {
                trusted.setCertificateEntry("authority-" + count++, certificate);
            }
            TrustManagerFactory trust =
                    TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
            trust.init(trusted);
            SSLContext context = SSLContext.getInstance("TLS");
            context.init(null, trust.getTrustManagers(), null);
            return context.getSocketFactory();
        } catch (IOException | GeneralSecurityException e) {
            throw new TlsTrouble("the certificate file " + file + " cannot be used", e);
        }
    }
}
