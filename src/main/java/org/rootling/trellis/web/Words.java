package org.rootling.trellis.web;

import java.text.NumberFormat;
import java.util.Locale;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.UnitText;
import org.rootling.trellis.calc.Item;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** Texts of the trellis pages for drawings, files and the names of things. Templates use it as {@code @trellisWords}. */
@Component("trellisWords")
class Words {
    private final MessageSource messages;
    private final UnitText units;

    Words(MessageSource messages, UnitText units) {
        this.messages = messages;
        this.units = units;
    }

    public String say(String key, @Nullable Object... args) {
        return Objects.requireNonNull(messages.getMessage(key, args, key, LocaleContextHolder.getLocale()));
    }

    /** A length in the reader's units with centimetres. */
    public String length(double metres) {
        return units.length(metres, 2);
    }

    /** A force in newtons, whole. */
    public String newtons(double newtons) {
        return units.number(newtons, 0) + " N";
    }

    /** A number with no more decimals than it needs. */
    public String plain(Number number) {
        Locale locale = LocaleContextHolder.getLocale();
        NumberFormat format = NumberFormat.getNumberInstance(locale);
        format.setMaximumFractionDigits(3);
        return format.format(number);
    }

    /** Name of a thing to buy, with its size. */
    public String name(Item item) {
        String kind = say("trellis.item." + item.kind());
        String steel = item.steel() == null ? "" : say("trellis.steel." + item.steel());
        return switch (item.kind()) {
            case END_POST, LINE_POST, STRUT, RAIL -> say("trellis.size.post", kind, item.lengthM(), item.diameterMm());
            case ANCHOR -> say("trellis.size.anchor", kind, item.lengthM(), item.diameterMm());
            case WIRE, TIE_WIRE -> say("trellis.size.wire", kind, item.diameterMm(), steel);
            case STAKE -> say("trellis.size.stake", kind, item.lengthM());
            default -> kind;
        };
    }

    /** Unit of a thing's quantity. */
    public String unit(Item item) {
        return say("trellis.unit." + item.kind().unit());
    }
}
