package org.rootling.platform;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.WriterException;
import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.QRCodeWriter;

/**
 * A QR code to be drawn as SVG, with the quiet zone of four modules that ISO/IEC 18004 asks for.
 *
 * @param side width and height, in modules
 * @param path the dark modules, each a square of side 1
 */
public record QrCode(int side, String path) {

    /**
     * The code of a text.
     *
     * @throws IllegalStateException when the text is too long for one code
     */
    public static QrCode of(String text) {
        try {
            BitMatrix matrix = new QRCodeWriter().encode(text, BarcodeFormat.QR_CODE, 0, 0);
            StringBuilder path = new StringBuilder();
            for (int y = 0; y < matrix.getHeight(); y++) {
                for (int x = 0; x < matrix.getWidth(); x++) {
                    if (matrix.get(x, y)) {
                        path.append('M').append(x).append(' ').append(y).append("h1v1h-1z");
                    }
                }
            }
            return new QrCode(matrix.getWidth(), path.toString());
        } catch (WriterException tooLong) {
            throw new IllegalStateException(tooLong);
        }
    }
}
