"""The short script that one would write: MQTT into SQLite in batches of 100. Arguments: port, file."""
import sqlite3
import sys
import time

import paho.mqtt.client as mqtt
from paho.mqtt.packettypes import PacketTypes

db = sqlite3.connect(sys.argv[2])
db.execute("PRAGMA journal_mode = WAL")
db.execute("PRAGMA synchronous = FULL")
db.execute("CREATE TABLE IF NOT EXISTS cycle (topic TEXT, record TEXT)")
batch, flushed = [], time.monotonic()

def flush():
    global flushed
    with db:
        db.executemany("INSERT INTO cycle VALUES (?, ?)", batch)
    batch.clear()
    flushed = time.monotonic()

def on_message(client, userdata, message):
    batch.append((message.topic, message.payload.decode()))
    if len(batch) >= 100:
        flush()

session = mqtt.Properties(PacketTypes.CONNECT)
session.SessionExpiryInterval = 1_000_000
client = mqtt.Client("script", protocol=mqtt.MQTTv5)
client.on_message = on_message
client.connect("127.0.0.1", int(sys.argv[1]), clean_start=False, properties=session)
client.subscribe("evenwash/v1/+/cycle", qos=1)
while client.loop(timeout=0.02) == mqtt.MQTT_ERR_SUCCESS:
    if batch and time.monotonic() - flushed > 0.02:
        flush()
