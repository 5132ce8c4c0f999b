// SPDX-License-Identifier: GPL-2.0 OR MIT
/*
 * An I2C bus with one analogue-to-digital converter on it: four 16-bit registers behind a pointer, high byte first.
 * A test sets the voltage of each channel through /sys/module/bench_i2c/parameters/channel (four raw numbers).
 * A conversion is ready at once: bit 15 of the configuration register always reads 1.
 */
#include <linux/i2c.h>
#include <linux/module.h>

#define CONVERSION 0
#define CONFIGURATION 1

static int channel[4];
module_param_array(channel, int, NULL, 0644);
static int address = 0x48;
module_param(address, int, 0644);

static u8 pointer;
static u16 registers[4] = { 0, 0x8583, 0x8000, 0x7fff };

static u16 read_register(void)
{
	if (pointer == CONVERSION)
		return (u16)channel[(registers[CONFIGURATION] >> 12) & 3];
	if (pointer == CONFIGURATION)
		return registers[CONFIGURATION] | 0x8000;
	return registers[pointer & 3];
}

static int bench_i2c_xfer(struct i2c_adapter *adapter, struct i2c_msg *messages, int count)
{
	int i, j;

	for (i = 0; i < count; i++) {
		struct i2c_msg *message = &messages[i];

		if (message->addr != address)
			return -ENXIO; /* nobody acknowledges */
		if (message->flags & I2C_M_RD) {
			for (j = 0; j < message->len; j++)
				message->buf[j] = j % 2 ? read_register() & 0xff : read_register() >> 8;
		} else if (message->len > 0) {
			pointer = message->buf[0] & 3;
			if (message->len >= 3)
				registers[pointer] = message->buf[1] << 8 | message->buf[2];
		}
	}
	return count;
}

static u32 bench_i2c_functionality(struct i2c_adapter *adapter)
{
	return I2C_FUNC_I2C | I2C_FUNC_SMBUS_EMUL;
}

static const struct i2c_algorithm bench_i2c_algorithm = {
	.master_xfer = bench_i2c_xfer,
	.functionality = bench_i2c_functionality,
};

static struct i2c_adapter bench_i2c_adapter = {
	.owner = THIS_MODULE,
	.algo = &bench_i2c_algorithm,
	.name = "bench-i2c",
	.nr = 1, /* the number a Pi's header bus has */
};

static int __init bench_i2c_init(void)
{
	return i2c_add_numbered_adapter(&bench_i2c_adapter);
}

static void __exit bench_i2c_exit(void)
{
	i2c_del_adapter(&bench_i2c_adapter);
}

module_init(bench_i2c_init);
module_exit(bench_i2c_exit);
MODULE_DESCRIPTION("I2C bus with one converter for the virtual bench");
MODULE_LICENSE("Dual MIT/GPL");
