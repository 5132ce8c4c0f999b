package org.evenwash.logger.tls;

import java.security.GeneralSecurityException;
import java.security.PrivateKey;
import java.security.PublicKey;
import java.security.Signature;

/** Whether two keys are a pair: what one signs, the other confirms. */
final class KeyCheck {
    private static final byte[] SAMPLE = {1, 2, 3};

    private KeyCheck() {}

    static boolean fits(PublicKey shown, PrivateKey secret) {
        String algorithm =
                switch (secret.getAlgorithm()) {
                    case "EC" -> "SHA256withECDSA";
                    case "RSA" -> "SHA256withRSA";
                    default -> secret.getAlgorithm();
                };
        try {
            Signature signature = Signature.getInstance(algorithm);
            signature.initSign(secret);
            signature.update(SAMPLE);
            byte[] signed = signature.sign();
            signature.initVerify(shown);
            signature.update(SAMPLE);
            return signature.verify(signed);
        } catch (GeneralSecurityException e) {
            // Keys of two kinds cannot be a pair; which kinds, says the caller's message.
            return false;
        }
    }
}
