package org.rootling.nursery.web;

import com.google.zxing.EncodeHintType;
import com.google.zxing.WriterException;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;
import com.google.zxing.qrcode.encoder.ByteMatrix;
import com.google.zxing.qrcode.encoder.Encoder;
import java.util.Map;

/** QR codes as SVG paths. */
final class QrSvg {

    /** Modules of white around the code, as ISO/IEC 18004 asks. */
    private static final int QUIET = 4;

    private QrSvg() {}

    /** An SVG of the code, square, of the size given in millimetres. */
    static String of(String text, double sizeMm) {
        ByteMatrix code = encode(text);
        int side = code.getWidth() + 2 * QUIET;
        StringBuilder path = new StringBuilder();
        for (int y = 0; y < code.getHeight(); y++) {
            int x = 0;
            while (x < code.getWidth()) {
                int from = x;
                while (x < code.getWidth() && code.get(x, y) == 1) {
                    x++;
                }
                if (x > from) {
                    int run = x - from;
                    path.append('M').append(from + QUIET).append(' ').append(y + QUIET);
                    path.append('h').append(run).append("v1h-").append(run).append('z');
                }
                x++;
            }
        }
        return "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + sizeMm + "mm\" height=\"" + sizeMm
                + "mm\" viewBox=\"0 0 " + side + " " + side + "\"><rect width=\"" + side + "\" height=\"" + side
                + "\" fill=\"#fff\"/><path fill=\"#000\" d=\"" + path + "\"/></svg>";
    }

    /** The modules of a code, 1 for black. */
    static ByteMatrix encode(String text) {
        try {
            return Encoder.encode(text, ErrorCorrectionLevel.M, Map.of(EncodeHintType.CHARACTER_SET, "UTF-8"))
                    .getMatrix();
        } catch (WriterException tooLong) {
            throw new IllegalArgumentException(tooLong);
        }
    }
}
