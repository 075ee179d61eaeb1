"""Which ingredients to pour, never how much: sets listed best first."""
