package org.evenwash.logger.tls;

import java.io.IOException;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.X509Certificate;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLSocketFactory;
import javax.net.ssl.TrustManagerFactory;

/** Whom a client of ours believes: the authorities in one file and no others. */
public final class Trust {
    private Trust() {}

    public static SSLSocketFactory in(Path file) {
        return context(file).getSocketFactory();
    }

    /**
     * @throws CertificateTrouble if the file holds no certificates
     */
    public static SSLContext context(Path file) {
        try {
            KeyStore trusted = KeyStore.getInstance(KeyStore.getDefaultType());
            trusted.load(null, null);
            int count = 0;
            for (X509Certificate certificate : Pem.certificates(file)) {
                trusted.setCertificateEntry("authority-" + count++, certificate);
            }
            TrustManagerFactory trust =
                    TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
            trust.init(trusted);
            SSLContext context = SSLContext.getInstance("TLS");
            context.init(null, trust.getTrustManagers(), null);
            return context;
        } catch (IOException | GeneralSecurityException e) {
            throw new CertificateTrouble("the certificates in " + file + " cannot be used", e);
        }
    }
}
