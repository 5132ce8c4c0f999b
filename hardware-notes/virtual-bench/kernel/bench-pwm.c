// SPDX-License-Identifier: GPL-2.0 OR MIT
/* A PWM chip without pins: the kernel's own sysfs tree with its own rules, and nothing at the other end. */
#include <linux/module.h>
#include <linux/platform_device.h>
#include <linux/pwm.h>

static int bench_pwm_apply(struct pwm_chip *chip, struct pwm_device *pwm, const struct pwm_state *state)
{
	return 0;
}

static const struct pwm_ops bench_pwm_ops = {
	.apply = bench_pwm_apply,
	.owner = THIS_MODULE,
};

static struct pwm_chip bench_pwm_chip;
static struct platform_device *bench_pwm_device;

static int __init bench_pwm_init(void)
{
	int failed;

	bench_pwm_device = platform_device_register_simple("bench-pwm", -1, NULL, 0);
	if (IS_ERR(bench_pwm_device))
		return PTR_ERR(bench_pwm_device);
	bench_pwm_chip.dev = &bench_pwm_device->dev;
	bench_pwm_chip.ops = &bench_pwm_ops;
	bench_pwm_chip.npwm = 2;
	failed = pwmchip_add(&bench_pwm_chip);
	if (failed)
		platform_device_unregister(bench_pwm_device);
	return failed;
}

static void __exit bench_pwm_exit(void)
{
	pwmchip_remove(&bench_pwm_chip);
	platform_device_unregister(bench_pwm_device);
}

module_init(bench_pwm_init);
module_exit(bench_pwm_exit);
MODULE_DESCRIPTION("PWM chip without pins for the virtual bench");
MODULE_LICENSE("Dual MIT/GPL");
