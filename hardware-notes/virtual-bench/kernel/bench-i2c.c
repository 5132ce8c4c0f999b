// SPDX-License-Identifier: GPL-2.0 OR MIT
/*
 * An I2C bus with one device on it: four 16-bit registers behind a pointer, high byte first. A test writes what the device
 * measures to /sys/module/bench_i2c/parameters/registers (four numbers, register 0 first).
 */
#include <linux/i2c.h>
#include <linux/module.h>

static int registers[4];
module_param_array(registers, int, NULL, 0644);
static int address = 0x40;
module_param(address, int, 0644);

static u8 pointer;

static int bench_i2c_xfer(struct i2c_adapter *adapter, struct i2c_msg *messages, int count)
{
	int i, j;

	for (i = 0; i < count; i++) {
		struct i2c_msg *message = &messages[i];

		if (message->addr != address)
			return -ENXIO; /* nobody acknowledges */
		if (message->flags & I2C_M_RD) {
			for (j = 0; j < message->len; j++)
				message->buf[j] = j % 2 ? registers[pointer] : registers[pointer] >> 8;
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
MODULE_DESCRIPTION("I2C bus with one device for the virtual bench");
MODULE_LICENSE("Dual MIT/GPL");
