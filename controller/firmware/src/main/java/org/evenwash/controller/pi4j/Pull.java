package org.evenwash.controller.pi4j;

import com.pi4j.library.gpiod.internal.LineRequestFlag;

/**
 * The resistor inside the chip that a line asks for. It only supports the external one that the wiring notes demand: the
 * internal one is weak, and gone while the program is not running.
 */
public enum Pull {
    UP(LineRequestFlag.BIAS_PULL_UP),
    DOWN(LineRequestFlag.BIAS_PULL_DOWN),
    NONE(LineRequestFlag.BIAS_DISABLE);

    private final LineRequestFlag flag;

    Pull(LineRequestFlag flag) {
        this.flag = flag;
    }

    int requestFlag() {
        return flag.getVal();
    }
}
