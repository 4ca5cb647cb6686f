"""Fresh air, heat, moisture, ducts."""
